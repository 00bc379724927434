import { and, asc, count, eq, isNull, type SQL, sql } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import { isAnyOf } from '../any-of';
import type { Db } from '../client';
import { bulletin, bulletinUnit, shed, unit } from '../schema';
import { unitsSeenBy } from './units-seen-by';

/** One fact that somebody must find out, and the bulletins that wait for it. */
export interface UndecidedFact {
  readonly unitId: string;
  readonly shed: string;
  readonly fact: string;
  readonly whoCanGetIt: string;
  readonly how: string;
  readonly bulletins: readonly string[];
}

export interface UndecidedPlace {
  readonly shedId?: string | undefined;
  /** The unit that the page follows, or goes before; the first page without either. */
  readonly after?: string | undefined;
  readonly before?: string | undefined;
  /** Units on a page, each with all of its missing facts. */
  readonly limit: number;
}

export interface UndecidedPage {
  readonly facts: readonly UndecidedFact[];
  /** The units to ask for the pages before and after; null where there is none. */
  readonly first: string | null;
  readonly last: string | null;
}

/** Units that the actor sees, in use, with a bulletin that waits for a fact. */
const waiting = (actor: Actor, shedId?: string): SQL | undefined =>
  and(
    isNull(unit.leftFleetOn),
    shedId === undefined ? undefined : eq(unit.shedId, shedId),
    unitsSeenBy(actor),
    sql`exists (select from ${bulletinUnit}
      where ${bulletinUnit.unitId} = ${unit.id} and ${bulletinUnit.status} = 'undecided')`,
  );

/** How many units of each shed wait for a fact, by name of shed. */
export async function undecidedCounts(db: Db, actor: Actor) {
  requirePermission(actor, 'see units');
  return db
    .select({ shedId: shed.id, shed: shed.name, units: count() })
    .from(unit)
    .innerJoin(shed, eq(shed.id, unit.shedId))
    .where(waiting(actor))
    .groupBy(shed.id, shed.name)
    .orderBy(asc(shed.name), asc(shed.id));
}

/** Missing facts of a page of units, by shed and unit: a list to walk the yard with. */
export async function undecidedFacts(
  db: Db,
  actor: Actor,
  place: UndecidedPlace,
): Promise<UndecidedPage> {
  requirePermission(actor, 'see units');
  const { units, hasBefore, hasAfter } = await unitsOfPage(db, actor, place);
  const ids = units.map(({ unitId }) => unitId);
  return {
    facts: await factsOf(db, units),
    first: hasBefore ? (ids[0] ?? null) : null,
    last: hasAfter ? (ids.at(-1) ?? null) : null,
  };
}

interface Waiting {
  readonly unitId: string;
  readonly shed: string;
}

async function unitsOfPage(
  db: Db,
  actor: Actor,
  { shedId, after, before, limit }: UndecidedPlace,
): Promise<{ units: readonly Waiting[]; hasBefore: boolean; hasAfter: boolean }> {
  const isBackward = before !== undefined;
  const from = before ?? after;
  const order = [shed.name, unit.id];
  const key = sql`(${sql.join(order, sql`, `)})`;
  const isBeyond =
    from === undefined
      ? undefined
      : sql`${key} ${sql.raw(isBackward ? '<' : '>')} (select s.name, u.id
          from ${unit} u join ${shed} s on s.id = u.shed_id where u.id = ${from})`;
  const rows = await db
    .select({ unitId: unit.id, shed: shed.name })
    .from(unit)
    .innerJoin(shed, eq(shed.id, unit.shedId))
    .where(and(waiting(actor, shedId), isBeyond))
    .orderBy(...order.map((column) => sql`${column} ${sql.raw(isBackward ? 'desc' : 'asc')}`))
    .limit(limit + 1);
  const hasMore = rows.length > limit;
  const units = rows.slice(0, limit);
  return isBackward
    ? { units: units.reverse(), hasBefore: hasMore, hasAfter: true }
    : { units, hasBefore: from !== undefined, hasAfter: hasMore };
}

/** Put together by the database: each bulletin of each unit tells all that it misses. */
async function factsOf(db: Db, units: readonly Waiting[]): Promise<UndecidedFact[]> {
  if (units.length === 0) return [];
  const ids = units.map(({ unitId }) => unitId);
  const fact = sql<string>`told ->> 'fact'`;
  const named = sql<string>`${bulletin.number} || ' issue ' || ${bulletin.issue}`;
  const rows = await db
    .select({
      unitId: bulletinUnit.unitId,
      fact,
      whoCanGetIt: sql<string>`min(told ->> 'whoCanGetIt')`,
      how: sql<string>`min(told ->> 'how')`,
      bulletins: sql<string[]>`array_agg(${named} order by ${bulletin.number}, ${bulletin.issue})`,
    })
    .from(bulletinUnit)
    .innerJoin(bulletin, eq(bulletin.id, bulletinUnit.bulletinId))
    .crossJoin(sql`jsonb_array_elements(${bulletinUnit.missing}) as one (told)`)
    .where(and(eq(bulletinUnit.status, 'undecided'), isAnyOf(bulletinUnit.unitId, ids)))
    .groupBy(bulletinUnit.unitId, fact)
    .orderBy(sql`min(${bulletin.number})`, fact);
  const byUnit = new Map(units.map((one) => [one.unitId, { ...one, facts: [] as typeof rows }]));
  for (const row of rows) byUnit.get(row.unitId)?.facts.push(row);
  return [...byUnit.values()].flatMap(({ shed: at, facts }) =>
    facts.map((row) => ({ ...row, shed: at })),
  );
}
