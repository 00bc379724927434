import { count } from 'drizzle-orm';
import type { Actor } from '@/lib/access';
import { type Mark, marks } from '@/lib/analysis/assessment';
import type { YardQuery } from '@/lib/intake/yard-query';
import type { Db, Tx } from '../client';
import { unit, verdict } from '../schema';
import { currentVerdict, markOnShow, yardFilter } from './yard-filter';

export interface MarkCounts {
  readonly byMark: Readonly<Record<Mark, number>>;
  /** Laid up or gone from the fleet. */
  readonly withoutMark: number;
}

/** How many units bear each mark under the other filters of a query. */
export async function markCounts(db: Db | Tx, actor: Actor, query: YardQuery): Promise<MarkCounts> {
  const rows = await db
    .select({ mark: markOnShow, units: count() })
    .from(unit)
    .leftJoin(verdict, currentVerdict)
    .where(yardFilter(db, actor, query))
    .groupBy(markOnShow);
  const of = (mark: Mark | null) => rows.find((row) => row.mark === mark)?.units ?? 0;
  return {
    byMark: Object.fromEntries(marks.map((mark) => [mark, of(mark)])) as Record<Mark, number>,
    withoutMark: of(null),
  };
}

/** How many rows the query lists. */
export const rowsListed = ({ byMark, withoutMark }: MarkCounts, query: YardQuery): number =>
  query.mark === null
    ? withoutMark + marks.reduce((sum, mark) => sum + byMark[mark], 0)
    : byMark[query.mark];
