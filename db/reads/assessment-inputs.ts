import { eq, inArray } from 'drizzle-orm';
import type { AssessUnitInput } from '@/lib/analysis/assess-unit';
import type { Limits } from '@/lib/analysis/limits';
import { dayFromIso, localDay } from '@/lib/calendar';
import type { Db, Tx } from '../client';
import { shed, unit } from '../schema';
import { fitmentsOfUnits } from './fitments-of-units';
import { fleetPriorInForce } from './fleet-prior-in-force';
import { limitsInForce } from './limits-in-force';
import { readingsOfUnits } from './readings-of-units';
import { standingOfUnits } from './standing-of-units';

export interface InputOnRecord {
  readonly input: AssessUnitInput;
  readonly fleetPriorId: number | null;
  readonly unit: typeof unit.$inferSelect;
  readonly shed: typeof shed.$inferSelect;
}

const dayOrNull = (iso: string | null) => (iso === null ? null : dayFromIso(iso));

/** All that the record holds for a verdict on each unit, as of the day of its shed. */
export async function assessmentInputs(
  db: Db | Tx,
  unitIds: readonly string[],
  now: Date,
): Promise<InputOnRecord[]> {
  const rows = await db
    .select({ unit, shed })
    .from(unit)
    .innerJoin(shed, eq(shed.id, unit.shedId))
    .where(inArray(unit.id, [...unitIds]));
  const readings = await readingsOfUnits(db, unitIds);
  const fitments = await fitmentsOfUnits(db, unitIds);
  const standing = await standingOfUnits(db, unitIds);
  const { id: fleetPriorId, prior, kilometresADay } = await fleetPriorInForce(db);
  const limitsByDay = new Map<number, Limits>();
  const inputs: InputOnRecord[] = [];
  for (const row of rows) {
    const asOf = localDay(now, row.shed.timeZone);
    const limits = limitsByDay.get(asOf) ?? (await limitsInForce(db, asOf));
    limitsByDay.set(asOf, limits);
    const own = standing.get(row.unit.id);
    const { builtYear, builtMonth } = row.unit;
    inputs.push({
      ...row,
      fleetPriorId,
      input: {
        unit: {
          unit: row.unit.id,
          elevation: row.shed.elevationM,
          builtOn:
            builtYear === null
              ? null
              : dayFromIso(`${builtYear}-${String(builtMonth ?? 1).padStart(2, '0')}-01`),
          trackedFrom: dayFromIso(row.unit.trackedFrom),
        },
        readings: readings.get(row.unit.id) ?? [],
        fitments: fitments.get(row.unit.id) ?? [],
        limits,
        prior,
        asOf,
        openSpell: own?.openSpell ?? null,
        releasedOn: own?.releasedOn ?? null,
        proofReadingIds: own?.proofReadingIds ?? [],
        vacuumOrderClosedOn: own?.vacuumOrderClosedOn ?? null,
        bulletinsDue: own?.bulletinsDue ?? [],
        fleetBeltRate: kilometresADay,
        laidUpOn: dayOrNull(row.unit.laidUpOn),
        leftFleetOn: dayOrNull(row.unit.leftFleetOn),
      },
    });
  }
  return inputs;
}
