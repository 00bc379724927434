import { asc, inArray } from 'drizzle-orm';
import type { Fitment } from '@/lib/analysis/reading';
import { dayFromIso } from '@/lib/calendar';
import type { Db, Tx } from '../client';
import { fitment } from '../schema';

const dayOrNull = (iso: string | null): number | null => (iso === null ? null : dayFromIso(iso));

export async function fitmentsOfUnits(
  db: Db | Tx,
  unitIds: readonly string[],
): Promise<Map<string, Fitment[]>> {
  const found = new Map<string, Fitment[]>(unitIds.map((id) => [id, []]));
  if (unitIds.length === 0) return found;
  const rows = await db
    .select()
    .from(fitment)
    .where(inArray(fitment.unitId, [...unitIds]))
    .orderBy(asc(fitment.fittedOn));
  for (const row of rows) {
    found.get(row.unitId)?.push({
      part: row.part,
      revision: row.revision,
      fittedOn: dayOrNull(row.fittedOn),
      fittedOdometer: row.fittedOdometerKm,
      removedOn: dayOrNull(row.removedOn),
      removedOdometer: row.removedOdometerKm,
      whyRemoved: row.whyRemoved,
    });
  }
  return found;
}
