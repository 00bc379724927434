import { and, asc, eq, inArray } from 'drizzle-orm';
import type { Reading } from '@/lib/analysis/reading';
import { dayFromIso } from '@/lib/calendar';
import type { Db, Tx } from '../client';
import { amendment, reading } from '../schema';
import type { AmendedValues } from '../schema/amendment';

type Row = typeof reading.$inferSelect;
const day = (iso: string): number => dayFromIso(iso) ?? Number.NaN;

/** A stored row with its approved amendments applied, as the analysis takes it. */
export function readingOfRow(row: Row, amended: AmendedValues = {}): Reading {
  const values = { ...row, ...amended };
  return {
    id: row.id,
    readOn: day(row.readOn),
    entry: row.entry,
    idle: values.idleVacuumKpa,
    raised: values.raisedVacuumKpa,
    lowest: values.lowestKpa,
    recovery: values.recoveryS,
    holdLoss: values.holdLossKpa,
    holdTime: values.holdTimeS,
    line: values.line,
    pedal: values.pedal,
    belt: values.belt,
    barometer: values.barometerKpa,
    odometer: values.odometerKm,
    technician: row.technicianId ?? row.technicianLabel,
    gauge: row.gaugeId,
  };
}

/** Readings of each unit in order of entry, approved amendments applied. */
export async function readingsOfUnits(
  db: Db | Tx,
  unitIds: readonly string[],
): Promise<Map<string, Reading[]>> {
  const found = new Map<string, Reading[]>(unitIds.map((id) => [id, []]));
  if (unitIds.length === 0) return found;
  const rows = await db
    .select()
    .from(reading)
    .where(inArray(reading.unitId, [...unitIds]))
    .orderBy(asc(reading.readOn), asc(reading.entry));
  const changes = await db
    .select({ readingId: amendment.readingId, after: amendment.after })
    .from(amendment)
    .innerJoin(reading, eq(reading.id, amendment.readingId))
    .where(and(eq(amendment.state, 'approved'), inArray(reading.unitId, [...unitIds])))
    .orderBy(asc(amendment.decidedAt));
  const amended = new Map<string, AmendedValues>();
  for (const { readingId, after } of changes) {
    amended.set(readingId, { ...amended.get(readingId), ...after });
  }
  for (const row of rows) found.get(row.unitId)?.push(readingOfRow(row, amended.get(row.id)));
  return found;
}
