import { and, eq, exists, isNotNull, isNull, type SQL, sql } from 'drizzle-orm';
import type { Actor } from '@/lib/access';
import type { Mark } from '@/lib/analysis/assessment';
import type { YardQuery } from '@/lib/intake/yard-query';
import { isAnyOf } from '../any-of';
import type { Db, Tx } from '../client';
import { bulletinUnit, unit, verdict } from '../schema';
import { unitsOfBuildRange } from './units-of-build-range';
import { unitsSeenBy } from './units-seen-by';

/** A unit that was never judged is Unread: silence is never Holding. Null while laid up or gone. */
export const markOnShow = sql<Mark | null>`case when ${verdict.unitId} is null then 'Unread' else ${verdict.mark} end`;

export const currentVerdict = and(eq(verdict.unitId, unit.id), sql`${verdict.isCurrent}`);

/** Every filter but the mark, so that the counts by mark follow the other filters. */
export async function yardFilter(
  db: Db | Tx,
  actor: Actor,
  query: YardQuery,
): Promise<SQL | undefined> {
  const ofRange = query.range === null ? null : await unitsOfBuildRange(db, actor, query.range);
  return and(
    unitsSeenBy(actor),
    standingIs(query.standing),
    query.find === '' ? undefined : sql`${unit.id} like ${`${query.find}%`}`,
    query.shed === null ? undefined : eq(unit.shedId, query.shed),
    query.make === null ? undefined : eq(unit.make, query.make),
    query.model === null ? undefined : eq(unit.model, query.model),
    query.body === null ? undefined : eq(unit.body, query.body),
    builtWithin(query.builtFrom, query.builtTo),
    query.bulletin === null ? undefined : hasBulletin(db, query.bulletin),
    ofRange ? isAnyOf(unit.id, ofRange) : undefined,
  );
}

/** Whether the current verdicts alone answer for the filters but the mark: nothing is asked of the unit itself. */
export const asksVerdictsOnly = (actor: Actor, query: YardQuery): boolean =>
  unitsSeenBy(actor) === undefined &&
  query.standing === 'in use' &&
  query.find === '' &&
  [query.shed, query.make, query.model, query.body, query.bulletin, query.range].every(
    (one) => one === null,
  ) &&
  query.builtFrom === null &&
  query.builtTo === null;

/** With the mark. A never-judged unit has no verdict row, so plain equality keeps the index of the rest. */
export async function yardFilterWithMark(
  db: Db | Tx,
  actor: Actor,
  query: YardQuery,
): Promise<SQL | undefined> {
  const rest = await yardFilter(db, actor, query);
  if (query.mark === null) return rest;
  if (query.mark === 'Unread') return and(rest, sql`${markOnShow} = 'Unread'`);
  return and(rest, eq(verdict.mark, query.mark));
}

function standingIs(standing: YardQuery['standing']): SQL | undefined {
  if (standing === 'in use') return sql`(${verdict.unitId} is null or ${verdict.mark} is not null)`;
  return and(
    isNotNull(verdict.unitId),
    isNull(verdict.mark),
    sql`${verdict.assessment} ->> 'standing' = ${standing}`,
  );
}

/** A label without a month may lie anywhere in its year. */
function builtWithin(from: string | null, to: string | null): SQL | undefined {
  const number = (month: string) => Number(month.replace('-', ''));
  return and(
    from === null
      ? undefined
      : sql`${unit.builtYear} * 100 + coalesce(${unit.builtMonth}, 12) >= ${number(from)}::int`,
    to === null
      ? undefined
      : sql`${unit.builtYear} * 100 + coalesce(${unit.builtMonth}, 1) <= ${number(to)}::int`,
  );
}

const hasBulletin = (db: Db | Tx, status: NonNullable<YardQuery['bulletin']>): SQL =>
  exists(
    db
      .select({ one: sql`1` })
      .from(bulletinUnit)
      .where(and(eq(bulletinUnit.unitId, unit.id), eq(bulletinUnit.status, status))),
  );
