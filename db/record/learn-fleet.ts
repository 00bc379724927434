import { asc } from 'drizzle-orm';
import { fleetBeltRateOf, wearSegmentsOf } from '@/lib/analysis/assess-fleet';
import { learnFleetPrior } from '@/lib/analysis/fleet-prior';
import type { WearPoint } from '@/lib/analysis/wear';
import { localDay } from '@/lib/calendar';
import type { Tx } from '../client';
import { fitmentsOfUnits } from '../reads/fitments-of-units';
import { limitsInForce } from '../reads/limits-in-force';
import { readingsOfUnits } from '../reads/readings-of-units';
import { type fleetPrior, shed, unit } from '../schema';

/** Units enough to teach the prior; a larger fleet is sampled evenly, so that the night stays short. */
const unitsEnough = 300;

/** What the fleet's own readings up to `now` teach, as a row to store. */
export async function learnFleet(tx: Tx, now: Date): Promise<typeof fleetPrior.$inferInsert> {
  const all = await tx
    .select({ id: unit.id, shedId: unit.shedId })
    .from(unit)
    .orderBy(asc(unit.id));
  const sheds = new Map((await tx.select().from(shed)).map((row) => [row.id, row]));
  const stride = Math.max(1, all.length / unitsEnough);
  const sample = Array.from(
    { length: Math.min(all.length, unitsEnough) },
    (_, k) => all[Math.floor(k * stride)],
  ).filter((row) => row !== undefined);
  const ids = sample.map(({ id }) => id);
  const readings = await readingsOfUnits(tx, ids);
  const fitments = await fitmentsOfUnits(tx, ids);
  const today = localDay(now, 'UTC');
  const segments: (readonly WearPoint[])[] = sample.flatMap(({ id, shedId }) => [
    ...wearSegmentsOf({
      unit: {
        unit: id,
        elevation: sheds.get(shedId)?.elevationM ?? 0,
        builtOn: null,
        trackedFrom: null,
      },
      readings: readings.get(id) ?? [],
      fitments: fitments.get(id) ?? [],
      asOf: today,
    }),
  ]);
  const { idleCautionSle } = await limitsInForce(tx, today);
  const prior = learnFleetPrior(segments, idleCautionSle);
  return {
    learntAt: now,
    segmentCount: prior.segments,
    prior,
    kilometresADay: fleetBeltRateOf(
      ids.map((id) => ({ readings: readings.get(id) ?? [] })),
      today,
    ),
  };
}
