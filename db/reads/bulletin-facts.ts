import { and, desc, inArray, isNull, sql } from 'drizzle-orm';
import { buildDateFromParts } from '@/lib/bulletins/build-date';
import type { BulletinFacts } from '@/lib/bulletins/unit-facts';
import { dayFromIso } from '@/lib/calendar';
import type { Db, Tx } from '../client';
import { fitment, reading, unit } from '../schema';

/** What is on record about each unit, for the rules of bulletins; all units where no ids are given. */
export async function bulletinFacts(
  db: Db | Tx,
  unitIds?: readonly string[],
): Promise<BulletinFacts[]> {
  const of = (column: typeof unit.id | typeof fitment.unitId | typeof reading.unitId) =>
    unitIds ? inArray(column, [...unitIds]) : sql`true`;
  const units = await db.select().from(unit).where(of(unit.id)).orderBy(unit.id);
  const parts = await db
    .select()
    .from(fitment)
    .where(and(isNull(fitment.removedOn), of(fitment.unitId)));
  const newest = await db
    .selectDistinctOn([reading.unitId])
    .from(reading)
    .where(of(reading.unitId))
    .orderBy(reading.unitId, desc(reading.readOn), desc(reading.entry));
  const fittedOf = new Map<string, (typeof parts)[number][]>();
  for (const part of parts) fittedOf.set(part.unitId, [...(fittedOf.get(part.unitId) ?? []), part]);
  const newestOf = new Map(newest.map((row) => [row.unitId, row]));
  return units.map((row) => {
    const last = newestOf.get(row.id);
    const readOn = last ? (dayFromIso(last.readOn) ?? 0) : 0;
    return {
      unit: row.id,
      vin: row.vin,
      isCheckDigitRequired: true,
      gvwrKg: row.gvwrKg,
      make: row.make,
      model: row.model,
      modelYear: row.modelYear,
      engine: row.engine,
      built:
        row.builtYear === null
          ? null
          : buildDateFromParts(row.builtYear, row.builtMonth, row.builtDay),
      fitted: (fittedOf.get(row.id) ?? []).map(({ part, revision, dateCode }) => ({
        part,
        revision,
        dateCode,
      })),
      odometer: last?.odometerKm != null ? { value: last.odometerKm, readOn } : null,
      newest: last
        ? {
            readOn,
            line: last.line,
            recovery: last.recoveryS,
            idle: last.idleVacuumKpa,
            lowest: last.lowestKpa,
          }
        : null,
    };
  });
}
