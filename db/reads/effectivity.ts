import { and, asc, count, eq, inArray, sql } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import type { BuildRange } from '@/lib/bulletins/build-ranges';
import { type StatusCounts, statusCounts } from '@/lib/bulletins/status-counts';
import { localDay } from '@/lib/calendar';
import type { Db } from '../client';
import { bulletin, bulletinUnit, unit, workOrder } from '../schema';
import { type BuildRangesOnRecord, buildRangesOnRecord } from './build-ranges-on-record';
import { unitsSeenBy } from './units-seen-by';

/** Bulletins and the build ranges that they cut, for the units that the actor sees. */
export async function effectivity(db: Db, actor: Actor, now: Date) {
  requirePermission(actor, 'see units');
  const bulletins = await db
    .select({
      id: bulletin.id,
      number: bulletin.number,
      issue: bulletin.issue,
      title: bulletin.title,
      issuedOn: bulletin.issuedOn,
      kind: bulletin.kind,
      dueOn: bulletin.dueOn,
      rule: bulletin.rule,
      conditions: bulletin.conditions,
      actions: bulletin.actions,
      hours: bulletin.hours,
      source: bulletin.source,
    })
    .from(bulletin)
    .orderBy(asc(bulletin.number), asc(bulletin.issue));
  const rules = bulletins.map(({ rule }) => rule);
  return { bulletins, ...(await buildRangesOnRecord(db, actor, rules, localDay(now, 'UTC'))) };
}

/** Counts of each bulletin over all units that the actor sees. */
export async function effectivityTotals(
  db: Db,
  actor: Actor,
): Promise<(bulletinId: string) => StatusCounts> {
  const seen = unitsSeenBy(actor);
  const counted = db
    .select({ key: bulletinUnit.bulletinId, status: bulletinUnit.status, units: count() })
    .from(bulletinUnit)
    .where(seen && inArray(bulletinUnit.unitId, db.select({ id: unit.id }).from(unit).where(seen)));
  const rows = await counted.groupBy(bulletinUnit.bulletinId, bulletinUnit.status);
  return statusCounts(rows);
}

/** Counts of each bulletin over the units of each of some build ranges. */
export async function effectivityCells(
  db: Db,
  unitIds: BuildRangesOnRecord['unitIds'],
  rows: readonly BuildRange[],
): Promise<(row: number, bulletinId: string) => StatusCounts> {
  const ids = rows.flatMap(({ units }) => units.map((index) => unitIds[index] ?? ''));
  const rowOf = rows.flatMap(({ units }, row) => units.map(() => row));
  const told = await db
    .select({
      key: sql<string>`r.row || ' ' || ${bulletinUnit.bulletinId}`,
      status: bulletinUnit.status,
      units: count(),
    })
    .from(bulletinUnit)
    .innerJoin(
      sql`unnest(${sql.param(ids)}::text[], ${sql.param(rowOf)}::int[]) as r (unit_id, row)`,
      sql`r.unit_id = ${bulletinUnit.unitId}`,
    )
    .groupBy(sql`r.row`, bulletinUnit.bulletinId, bulletinUnit.status);
  const of = statusCounts(told);
  return (row, bulletinId) => of(`${row} ${bulletinId}`);
}

/** Units under one bulletin with why, and what is missing where it is undecided. */
export async function unitsUnderBulletin(db: Db, actor: Actor, bulletinId: string) {
  requirePermission(actor, 'see units');
  const rows = await db
    .select({ pair: bulletinUnit, shedId: unit.shedId, order: workOrder.number })
    .from(bulletinUnit)
    .innerJoin(unit, eq(unit.id, bulletinUnit.unitId))
    .leftJoin(workOrder, eq(workOrder.id, bulletinUnit.workOrderId))
    .where(and(eq(bulletinUnit.bulletinId, bulletinId), unitsSeenBy(actor)))
    .orderBy(asc(bulletinUnit.unitId));
  return rows.map(({ pair, ...row }) => ({ ...pair, ...row }));
}
