import { and, count, eq } from 'drizzle-orm';
import type { Actor } from '@/lib/access';
import type { YardQuery } from '@/lib/intake/yard-query';
import type { Db, Tx } from '../client';
import { shed, unit, verdict } from '../schema';
import { currentVerdict, yardFilterWithMark } from './yard-filter';
import { type YardCursor, yardOrder } from './yard-order';

export interface YardPage {
  readonly unitIds: readonly string[];
  /** Place of the last unit; null where the page is empty. */
  readonly end: YardCursor | null;
}

interface Place {
  /** Null begins at the top. */
  readonly after: YardCursor | null;
  /** Rows to pass over from there, for a jump down the list. */
  readonly skip: number;
  readonly limit: number;
}

/** The units of one page, found by the keys of the row before it. */
export async function yardPage(
  db: Db | Tx,
  actor: Actor,
  query: YardQuery,
  { after, skip, limit }: Place,
): Promise<YardPage> {
  const order = yardOrder(query.sort, query.isDescending);
  const rows = await db
    .select({ id: unit.id, cursor: order.cursor })
    .from(unit)
    .innerJoin(shed, eq(shed.id, unit.shedId))
    .leftJoin(verdict, currentVerdict)
    .where(and(yardFilterWithMark(db, actor, query), after ? order.after(after) : undefined))
    .orderBy(order.orderBy)
    .limit(limit)
    .offset(skip);
  return { unitIds: rows.map(({ id }) => id), end: rows.at(-1)?.cursor ?? null };
}

/** How many rows of the list lie before a unit; null where the list does not hold it. */
export async function placeInYard(
  db: Db | Tx,
  actor: Actor,
  query: YardQuery,
  unitId: string,
): Promise<number | null> {
  const order = yardOrder(query.sort, query.isDescending);
  const listed = yardFilterWithMark(db, actor, query);
  const [row] = await db
    .select({ cursor: order.cursor })
    .from(unit)
    .innerJoin(shed, eq(shed.id, unit.shedId))
    .leftJoin(verdict, currentVerdict)
    .where(and(listed, eq(unit.id, unitId)));
  if (!row) return null;
  const [before] = await db
    .select({ rows: count() })
    .from(unit)
    .innerJoin(shed, eq(shed.id, unit.shedId))
    .leftJoin(verdict, currentVerdict)
    .where(and(listed, order.before(row.cursor)));
  return before?.rows ?? 0;
}
