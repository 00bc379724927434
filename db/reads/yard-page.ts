import { and, count, eq, isNotNull, sql } from 'drizzle-orm';
import type { PgSelect } from 'drizzle-orm/pg-core';
import type { Actor } from '@/lib/access';
import type { YardQuery } from '@/lib/intake/yard-query';
import type { Db, Tx } from '../client';
import { shed, unit, verdict } from '../schema';
import { asksVerdictsOnly, currentVerdict, yardFilterWithMark } from './yard-filter';
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
  /** Known to hold of the fleet, so that units need not be asked for beside their verdicts. */
  readonly isEachJudged?: boolean;
}

/** The units of one page, found by the keys of the row before it. */
export async function yardPage(
  db: Db | Tx,
  actor: Actor,
  query: YardQuery,
  { after, skip, limit, isEachJudged = false }: Place,
): Promise<YardPage> {
  const hasVerdict = isEachJudged || (query.mark !== null && query.mark !== 'Unread');
  const rows =
    hasVerdict && query.sort !== 'shed' && asksVerdictsOnly(actor, query)
      ? await verdictsInOrder(db, query, { after, skip, limit })
      : await unitsInOrder(db, actor, query, { after, skip, limit });
  const last = rows.at(-1);
  return {
    unitIds: rows.map(({ id }) => id),
    end: last ? await cursorOf(db, actor, query, last.id) : null,
  };
}

/** From an index alone, in its order where the list has the same. */
function verdictsInOrder(db: Db | Tx, query: YardQuery, { after, skip, limit }: Place) {
  const order = yardOrder(query.sort, query.isDescending, sql`${verdict.unitId}`);
  const isListed = query.mark === null ? isNotNull(verdict.mark) : eq(verdict.mark, query.mark);
  return db
    .select({ id: verdict.unitId })
    .from(verdict)
    .where(and(sql`${verdict.isCurrent}`, isListed, after ? order.after(after) : undefined))
    .orderBy(order.orderBy)
    .limit(limit)
    .offset(skip);
}

async function unitsInOrder(
  db: Db | Tx,
  actor: Actor,
  query: YardQuery,
  { after, skip, limit }: Place,
) {
  const order = yardOrder(query.sort, query.isDescending);
  const asked = db
    .select({ id: unit.id })
    .from(unit)
    .leftJoin(verdict, currentVerdict)
    .where(and(await yardFilterWithMark(db, actor, query), after ? order.after(after) : undefined))
    .orderBy(order.orderBy)
    .limit(limit)
    .offset(skip)
    .$dynamic();
  return withShedIfSorted(asked, query);
}

/** How many rows of the list lie before a unit; null where the list does not hold it. */
export async function placeInYard(
  db: Db | Tx,
  actor: Actor,
  query: YardQuery,
  unitId: string,
): Promise<number | null> {
  const cursor = await cursorOf(db, actor, query, unitId);
  if (!cursor) return null;
  const order = yardOrder(query.sort, query.isDescending);
  const asked = db
    .select({ rows: count() })
    .from(unit)
    .leftJoin(verdict, currentVerdict)
    .where(and(await yardFilterWithMark(db, actor, query), order.before(cursor)))
    .$dynamic();
  const [before] = await withShedIfSorted(asked, query);
  return before?.rows ?? 0;
}

/** Only one order needs the shed's name, and 50,000 rows joined for nothing cost a fifth of the answer. */
function withShedIfSorted<Select extends PgSelect>(asked: Select, { sort }: YardQuery): Select {
  if (sort === 'shed') asked.innerJoin(shed, eq(shed.id, unit.shedId));
  return asked;
}

/** Asked for the one row: as a column of the whole list it would be built for every unit before the sort. */
async function cursorOf(
  db: Db | Tx,
  actor: Actor,
  query: YardQuery,
  unitId: string,
): Promise<YardCursor | null> {
  const [row] = await db
    .select({ cursor: yardOrder(query.sort, query.isDescending).cursor })
    .from(unit)
    .innerJoin(shed, eq(shed.id, unit.shedId))
    .leftJoin(verdict, currentVerdict)
    .where(and(await yardFilterWithMark(db, actor, query), eq(unit.id, unitId)));
  return row?.cursor ?? null;
}
