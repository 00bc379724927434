import { and, eq, sql } from 'drizzle-orm';
import type { Actor } from '@/lib/access';
import type { PartHistory } from '@/lib/analysis/life';
import type { Part } from '@/lib/analysis/reading';
import { dayFromIso } from '@/lib/calendar';
import type { Db, Tx } from '../client';
import { fitment, shed, unit, verdict } from '../schema';
import { unitsSeenBy } from './units-seen-by';

const dayOrNull = (iso: string | null): number | null => (iso === null ? null : dayFromIso(iso));

/** Every life of one part on the units that a person may see. */
export async function partHistories(db: Db | Tx, actor: Actor, part: Part): Promise<PartHistory[]> {
  const rows = await db
    .select({
      revision: fitment.revision,
      fittedOn: fitment.fittedOn,
      fittedOdometer: fitment.fittedOdometerKm,
      removedOn: fitment.removedOn,
      removedOdometer: fitment.removedOdometerKm,
      whyRemoved: fitment.whyRemoved,
      engine: unit.engine,
      shed: shed.name,
      odometerNow: sql<number | null>`case when ${fitment.removedOn} is null
        then (${verdict.assessment} -> 'latest' ->> 'odometer')::float8 end`,
    })
    .from(fitment)
    .innerJoin(unit, eq(unit.id, fitment.unitId))
    .innerJoin(shed, eq(shed.id, unit.shedId))
    .leftJoin(verdict, and(eq(verdict.unitId, unit.id), eq(verdict.isCurrent, true)))
    .where(and(eq(fitment.part, part), unitsSeenBy(actor)));
  return rows.map(({ engine, shed, odometerNow, ...row }) => ({
    fitment: {
      ...row,
      part,
      fittedOn: dayOrNull(row.fittedOn),
      removedOn: dayOrNull(row.removedOn),
    },
    engine,
    shed,
    odometerNow,
  }));
}
