import { asc } from 'drizzle-orm';
import type { Actor } from '@/lib/access';
import { wearSegmentsOf } from '@/lib/analysis/assess-fleet';
import { observedSegment } from '@/lib/analysis/backtest/observed-segment';
import { replayForecasts } from '@/lib/analysis/backtest/replay-forecasts';
import {
  type ForecastScores,
  type JudgedSegment,
  scoreForecasts,
} from '@/lib/analysis/backtest/score-forecasts';
import { defaultFleetPrior } from '@/lib/analysis/fleet-prior';
import { localDay } from '@/lib/calendar';
import type { DayNumber } from '@/lib/measure';
import type { Db, Tx } from '../client';
import { fleetPrior, shed, unit } from '../schema';
import { fitmentsOfUnits } from './fitments-of-units';
import { limitsInForce } from './limits-in-force';
import { readingsOfUnits } from './readings-of-units';
import { unitsSeenBy } from './units-seen-by';

/** Units replayed at most; a larger fleet is sampled evenly, so that the page stays quick. */
const unitsAtMost = 240;
/** Replaying is work for the processor: other requests get in between so many units. */
const unitsAtATime = 4;

export interface ForecastRecord {
  readonly units: number;
  readonly unitsSampled: number;
  readonly segments: number;
  readonly scores: ForecastScores;
}

/**
 * Replays the fleet's own histories as they were known at each visit, under the prior that was in
 * force then, and scores the forecasts by what the later readings showed.
 */
export async function forecastRecord(
  db: Db | Tx,
  actor: Actor,
  today: DayNumber,
): Promise<ForecastRecord> {
  const units = await db
    .select({ id: unit.id, shedId: unit.shedId })
    .from(unit)
    .where(unitsSeenBy(actor))
    .orderBy(asc(unit.id));
  const stride = Math.max(1, units.length / unitsAtMost);
  const sample = Array.from(
    { length: Math.min(units.length, unitsAtMost) },
    (_, k) => units[Math.floor(k * stride)],
  ).filter((one) => one !== undefined);
  const elevations = new Map(
    (await db.select({ id: shed.id, elevation: shed.elevationM }).from(shed)).map((row) => [
      row.id,
      row.elevation,
    ]),
  );
  const priorOn = await priorsInForce(db);
  const { idleCautionSle } = await limitsInForce(db, today);
  const judged: JudgedSegment[] = [];
  for (let from = 0; from < sample.length; from += unitsAtATime) {
    const some = sample.slice(from, from + unitsAtATime);
    const ids = some.map(({ id }) => id);
    const readings = await readingsOfUnits(db, ids);
    const fitments = await fitmentsOfUnits(db, ids);
    for (const { id, shedId } of some) {
      const segments = wearSegmentsOf({
        unit: {
          unit: id,
          elevation: elevations.get(shedId) ?? 0,
          builtOn: null,
          trackedFrom: null,
        },
        readings: readings.get(id) ?? [],
        fitments: fitments.get(id) ?? [],
        asOf: today,
      });
      segments.forEach((points, k) => {
        const isRepaired = k < segments.length - 1;
        const segment = observedSegment(id, points, isRepaired, idleCautionSle);
        if (!segment) return;
        judged.push({
          ...segment,
          visits: replayForecasts(segment.points, priorOn, idleCautionSle),
        });
      });
    }
  }
  return {
    units: units.length,
    unitsSampled: sample.length,
    segments: judged.length,
    scores: scoreForecasts(judged),
  };
}

/** The prior that the nightly job had learnt before a day; the default until the first. */
async function priorsInForce(db: Db | Tx) {
  const learnt = await db
    .select({ learntAt: fleetPrior.learntAt, prior: fleetPrior.prior })
    .from(fleetPrior)
    .orderBy(asc(fleetPrior.learntAt));
  const byDay = learnt.map(({ learntAt, prior }) => ({ day: localDay(learntAt, 'UTC'), prior }));
  return (day: DayNumber) => byDay.findLast((one) => one.day < day)?.prior ?? defaultFleetPrior;
}
