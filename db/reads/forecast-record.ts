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
import { fleetPrior } from '../schema';
import { limitsInForce } from './limits-in-force';
import { sampledHistories } from './sampled-histories';

/** Replaying takes a processor some milliseconds a unit. */
const sample = { most: 240, atATime: 4 };

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
  const { histories, ...counts } = await sampledHistories(db, actor, sample);
  const priorOn = await priorsInForce(db);
  const { idleCautionSle } = await limitsInForce(db, today);
  const judged: JudgedSegment[] = [];
  for await (const history of histories) {
    const segments = wearSegmentsOf({ ...history, asOf: today });
    segments.forEach((points, k) => {
      const isRepaired = k < segments.length - 1;
      const segment = observedSegment(history.unit.unit, points, isRepaired, idleCautionSle);
      if (!segment) return;
      judged.push({
        ...segment,
        visits: replayForecasts(segment.points, priorOn, idleCautionSle),
      });
    });
  }
  return { ...counts, segments: judged.length, scores: scoreForecasts(judged) };
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
