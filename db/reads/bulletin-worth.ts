import { and, eq, inArray, isNotNull, or, sql } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import { type BulletinHistory, type BulletinWorth, doesItHelp } from '@/lib/bulletins/does-it-help';
import { dayFromIso, localDay } from '@/lib/calendar';
import type { DayNumber } from '@/lib/measure';
import type { Db } from '../client';
import { bulletin, bulletinUnit, fitment, unit, verdict } from '../schema';
import { doneUnderBulletin } from './done-under-bulletin';

const day = (iso: string): DayNumber => dayFromIso(iso) ?? Number.NaN;

/** Days by unit from rows of one day each. */
function daysByUnit(rows: readonly { unitId: string; on: string | null }[]) {
  const days = new Map<string, DayNumber[]>();
  for (const { unitId, on } of rows) {
    if (on !== null) days.set(unitId, [...(days.get(unitId) ?? []), day(on)]);
  }
  return days;
}

/**
 * What a bulletin's work went along with: failures of the parts that it asks for, of any part where it
 * asks for none, and drift first told, by unit. Units that are undecided belong to neither group.
 */
export async function bulletinWorth(
  db: Db,
  actor: Actor,
  bulletinId: string,
  now: Date,
): Promise<BulletinWorth | null> {
  requirePermission(actor, 'see units');
  const [asked] = await db
    .select({ required: bulletin.requiredParts })
    .from(bulletin)
    .where(eq(bulletin.id, bulletinId));
  if (!asked) return null;
  const units = await db
    .select({
      id: unit.id,
      trackedFrom: unit.trackedFrom,
      leftFleetOn: unit.leftFleetOn,
      status: bulletinUnit.status,
      statusAt: bulletinUnit.statusAt,
    })
    .from(unit)
    .leftJoin(
      bulletinUnit,
      and(eq(bulletinUnit.unitId, unit.id), eq(bulletinUnit.bulletinId, bulletinId)),
    );
  const failures = daysByUnit(
    await db
      .select({ unitId: fitment.unitId, on: fitment.removedOn })
      .from(fitment)
      .where(
        and(
          isNotNull(fitment.removedOn),
          inArray(fitment.whyRemoved, ['failed', 'worn']),
          asked.required.length === 0
            ? undefined
            : inArray(
                fitment.part,
                asked.required.map(({ part }) => part),
              ),
        ),
      ),
  );
  const judged = db
    .select({
      unitId: verdict.unitId,
      asOf: verdict.asOf,
      mark: verdict.mark,
      before: sql<string | null>`lag(${verdict.mark}) over (
        partition by ${verdict.unitId} order by ${verdict.judgedAt})`.as('before'),
    })
    .from(verdict)
    .as('judged');
  const drifts = daysByUnit(
    await db
      .select({ unitId: judged.unitId, on: judged.asOf })
      .from(judged)
      .where(
        and(
          eq(judged.mark, 'Drifting'),
          or(sql`${judged.before} is null`, sql`${judged.before} <> 'Drifting'`),
        ),
      ),
  );
  const doneAt = await doneUnderBulletin(db, bulletinId);
  const doneOn = ({ id, status, statusAt }: (typeof units)[number]): DayNumber | null => {
    const at = doneAt.get(id) ?? (status === 'done' ? statusAt : null);
    const isDone = status === 'done' || status === 'superseded';
    return isDone && at ? localDay(at, 'UTC') : null;
  };
  const today = localDay(now, 'UTC');
  const histories = units.flatMap((row): BulletinHistory[] => {
    if (row.status === 'undecided') return [];
    const isLeftOut = row.status === null || row.status === 'does not apply';
    return [
      {
        unit: row.id,
        isCovered: !isLeftOut,
        doneOn: doneOn(row),
        observedFrom: day(row.trackedFrom),
        observedTo: row.leftFleetOn === null ? today : day(row.leftFleetOn),
        failures: failures.get(row.id) ?? [],
        drifts: drifts.get(row.id) ?? [],
      },
    ];
  });
  return doesItHelp(histories);
}
