import { and, eq, isNotNull, isNull, ne, or } from 'drizzle-orm';
import type { Actor } from '@/lib/access';
import type { Mark } from '@/lib/analysis/assessment';
import { dayFromIso } from '@/lib/calendar';
import type { DayNumber } from '@/lib/measure';
import type { UnitToRead } from '@/lib/planning/readings-round';
import type { Db, Tx } from '../client';
import { shed, unit, verdict } from '../schema';
import { unitsSeenBy } from './units-seen-by';

export interface UnitOfRound extends UnitToRead {
  readonly shedName: string;
  readonly mark: Mark | null;
  readonly lastReadOn: string | null;
}

/** Units in use that want a reading, with what the forecast says of the time until the next one. */
export async function unitsToRead(
  db: Db | Tx,
  actor: Actor,
  shedId: string | null,
): Promise<UnitOfRound[]> {
  const sheds = await db.select({ id: shed.id, name: shed.name }).from(shed);
  const nameOf = new Map(sheds.map(({ id, name }) => [id, name]));
  // Neither joined with the sheds nor sorted: the round itself puts the whole fleet in order.
  const rows = await db
    .select({
      unit: unit.id,
      shedId: unit.shedId,
      mark: verdict.mark,
      lastReadOn: verdict.latestReadOn,
      dueOn: verdict.readingDueOn,
      risk: verdict.horizonProbability,
    })
    .from(unit)
    .leftJoin(verdict, and(eq(verdict.unitId, unit.id), eq(verdict.isCurrent, true)))
    .where(
      and(
        unitsSeenBy(actor),
        shedId === null ? undefined : eq(unit.shedId, shedId),
        isNull(unit.leftFleetOn),
        isNull(unit.laidUpOn),
        or(isNull(verdict.unitId), isNotNull(verdict.mark)),
        or(isNull(verdict.mark), ne(verdict.mark, 'Out of service')),
      ),
    );
  // Few different days: each is read once.
  const days = new Map<string, DayNumber | null>();
  const dayOf = (iso: string) => {
    const known = days.get(iso);
    if (known !== undefined) return known;
    const day = dayFromIso(iso);
    days.set(iso, day);
    return day;
  };
  return rows.map((row) => ({
    unit: row.unit,
    shedId: row.shedId,
    shedName: nameOf.get(row.shedId) ?? row.shedId,
    mark: row.mark,
    lastReadOn: row.lastReadOn,
    dueOn: row.lastReadOn === null || row.dueOn === null ? null : dayOf(row.dueOn),
    risk: row.risk,
  }));
}
