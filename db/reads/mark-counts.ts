import { count, eq } from 'drizzle-orm';
import type { Actor } from '@/lib/access';
import { type Mark, marks } from '@/lib/analysis/assessment';
import type { YardQuery } from '@/lib/intake/yard-query';
import type { Db, Tx } from '../client';
import { unit, verdict } from '../schema';
import { asksVerdictsOnly, currentVerdict, markOnShow, yardFilter } from './yard-filter';

export interface MarkCounts {
  readonly byMark: Readonly<Record<Mark, number>>;
  /** Laid up or gone from the fleet. */
  readonly withoutMark: number;
  /** That no unit of the fleet is without a verdict; false where it was not asked. */
  readonly isEachJudged: boolean;
}

interface Counted {
  readonly mark: Mark | null;
  readonly units: number;
}

/** How many units bear each mark under the other filters of a query. */
export async function markCounts(db: Db | Tx, actor: Actor, query: YardQuery): Promise<MarkCounts> {
  const isVerdictsOnly = asksVerdictsOnly(actor, query);
  const rows: readonly Counted[] = isVerdictsOnly
    ? await countedByVerdict(db)
    : await db
        .select({ mark: markOnShow, units: count() })
        .from(unit)
        .leftJoin(verdict, currentVerdict)
        .where(await yardFilter(db, actor, query))
        .groupBy(markOnShow);
  const of = (mark: Mark | null) =>
    rows.reduce((sum, row) => (row.mark === mark ? sum + row.units : sum), 0);
  return {
    byMark: Object.fromEntries(marks.map((mark) => [mark, of(mark)])) as Record<Mark, number>,
    withoutMark: of(null),
    isEachJudged: isVerdictsOnly && rows.at(-1)?.units === 0,
  };
}

/** Every unit in use, from an index alone: a unit that was never judged has no verdict and is Unread. */
async function countedByVerdict(db: Db | Tx): Promise<Counted[]> {
  const rows = await db
    .select({ mark: verdict.mark, units: count() })
    .from(verdict)
    .where(eq(verdict.isCurrent, true))
    .groupBy(verdict.mark);
  const [fleet] = await db.select({ units: count() }).from(unit);
  const judged = rows.reduce((sum, { units }) => sum + units, 0);
  return [
    ...rows.filter(({ mark }) => mark !== null),
    { mark: 'Unread', units: (fleet?.units ?? judged) - judged },
  ];
}

/** How many rows the query lists. */
export const rowsListed = ({ byMark, withoutMark }: MarkCounts, query: YardQuery): number =>
  query.mark === null
    ? withoutMark + marks.reduce((sum, mark) => sum + byMark[mark], 0)
    : byMark[query.mark];
