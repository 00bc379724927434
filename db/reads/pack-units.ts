import { asc, eq, inArray } from 'drizzle-orm';
import type { PackPurge, PackUnit } from '@/lib/outflow/pack/pack-facts';
import type { Tx } from '../client';
import { purgedUnit, shed, unit } from '../schema';

/** Identity of the units of a pack. */
export async function packUnits(tx: Tx, ids: readonly string[]): Promise<PackUnit[]> {
  if (ids.length === 0) return [];
  return tx
    .select({
      id: unit.id,
      shed: shed.name,
      make: unit.make,
      vin: unit.vin,
      modelYear: unit.modelYear,
      tireSize: unit.tireSize,
      gvwrKg: unit.gvwrKg,
      trackedFrom: unit.trackedFrom,
      leftFleetOn: unit.leftFleetOn,
    })
    .from(unit)
    .innerJoin(shed, eq(shed.id, unit.shedId))
    .where(inArray(unit.id, [...ids]))
    .orderBy(asc(unit.id));
}

/** What policy took from the record of units of a pack, oldest first. */
export async function packPurges(tx: Tx, ids: readonly string[]): Promise<PackPurge[]> {
  if (ids.length === 0) return [];
  return tx
    .select()
    .from(purgedUnit)
    .where(inArray(purgedUnit.unitId, [...ids]))
    .orderBy(asc(purgedUnit.entry), asc(purgedUnit.unitId));
}
