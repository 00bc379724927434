import { and, asc, eq, gte, inArray } from 'drizzle-orm';
import { ambientOf } from '@/lib/analysis/normalise';
import { seaLevelEquivalent } from '@/lib/atmosphere';
import { dayFromIso, isoFromDay } from '@/lib/calendar';
import type { DayNumber, Kilopascals } from '@/lib/measure';
import type { Db, Tx } from '../client';
import { amendment, reading, shed } from '../schema';

export interface IdlePoint {
  readonly readingId: string;
  readonly day: DayNumber;
  /** Sea-level equivalent. */
  readonly value: Kilopascals;
}

/** Idle vacuum of each unit since a day, oldest first, approved amendments applied. */
export async function idleSeries(
  db: Db | Tx,
  unitIds: readonly string[],
  since: DayNumber,
): Promise<Map<string, IdlePoint[]>> {
  const ofUnits = and(
    inArray(reading.unitId, [...unitIds]),
    gte(reading.readOn, isoFromDay(since)),
  );
  const rows = await db
    .select({
      readingId: reading.id,
      unitId: reading.unitId,
      readOn: reading.readOn,
      idle: reading.idleVacuumKpa,
      barometer: reading.barometerKpa,
      elevation: shed.elevationM,
    })
    .from(reading)
    .innerJoin(shed, eq(shed.id, reading.shedId))
    .where(ofUnits)
    .orderBy(asc(reading.readOn), asc(reading.entry));
  const changes = await db
    .select({ readingId: amendment.readingId, after: amendment.after })
    .from(amendment)
    .innerJoin(reading, eq(reading.id, amendment.readingId))
    .where(and(eq(amendment.state, 'approved'), ofUnits))
    .orderBy(asc(amendment.decidedAt));
  const amended = new Map<string, { idle?: number | null; barometer?: number | null }>();
  for (const { readingId, after } of changes) {
    const values = { ...amended.get(readingId) };
    if (after.idleVacuumKpa !== undefined) values.idle = after.idleVacuumKpa;
    if (after.barometerKpa !== undefined) values.barometer = after.barometerKpa;
    amended.set(readingId, values);
  }
  const series = new Map<string, IdlePoint[]>(unitIds.map((id) => [id, []]));
  for (const row of rows) {
    const { idle, barometer, elevation } = { ...row, ...amended.get(row.readingId) };
    const day = dayFromIso(row.readOn);
    if (idle === null || day === null) continue;
    series.get(row.unitId)?.push({
      readingId: row.readingId,
      day,
      value: seaLevelEquivalent(idle, ambientOf(barometer, elevation)),
    });
  }
  return series;
}
