import { type Recalibration, recalibratedDates } from '@/lib/analysis/backtest/recalibration';
import type { FleetPrior } from '@/lib/analysis/fleet-prior';
import {
  assessWear,
  startWear,
  updateWear,
  type WearOutcome,
  type WearPoint,
  type WearState,
  wearOutcomeOf,
} from '@/lib/analysis/wear';
import type { DayNumber, Kilopascals } from '@/lib/measure';

/** What the forecast said on the day of a visit, knowing no later one. */
export interface ReplayedVisit {
  readonly day: DayNumber;
  readonly count: number;
  readonly score: number;
  readonly probabilityWithin1Year: number;
  readonly asksReread: boolean;
  /** Probability that the visit was in error, in the light of the whole segment. */
  readonly errorInHindsight: number;
  readonly earliest90: DayNumber | null;
  readonly earliest80: DayNumber | null;
  readonly median: DayNumber | null;
  readonly latest80: DayNumber | null;
  readonly latest90: DayNumber | null;
}

/**
 * Replays one segment, its points in order, as it was known at each visit under the prior of that day;
 * its dates recalibrated where asked for.
 */
export function replayForecasts(
  points: readonly WearPoint[],
  priorOn: (day: DayNumber) => FleetPrior,
  limitSle: Kilopascals,
  recalibrate?: Recalibration,
): ReplayedVisit[] {
  const outcomes = outcomesOf(points, priorOn, limitSle);
  const whole = outcomes.at(-1);
  const hindsight = new Map(
    whole?.hindsight().map((error, k) => [whole.steps[k]!.day, error] as const),
  );
  return points.map(({ day }, k) => {
    const outcome = outcomes[k]!;
    const { earliest90, earliest80, median, latest80, latest90 } = recalibrate
      ? recalibratedDates(outcome, day, limitSle, recalibrate)
      : outcome.passage(limitSle, { asOf: day, nextReadingOn: null, horizonDays: 91 });
    return {
      day,
      count: outcome.count,
      score: outcome.score ?? 0,
      probabilityWithin1Year: outcome.probabilityWithin1Year ?? 0,
      errorInHindsight: hindsight.get(day) ?? 0,
      asksReread: outcome.steps.at(-1)?.asksReread ?? false,
      ...{ earliest90, earliest80, median, latest80, latest90 },
    };
  });
}

/** Follows the segment while the prior stays; starts over where it changed or a day repeats. */
export function outcomesOf(
  points: readonly WearPoint[],
  priorOn: (day: DayNumber) => FleetPrior,
  limitSle: Kilopascals,
): WearOutcome[] {
  let state: WearState | null = null;
  return points.map((point, k) => {
    const prior = priorOn(point.day);
    if (k === 0) state = startWear(prior, limitSle);
    state = state && state.prior === prior ? updateWear(state, point) : null;
    return state ? wearOutcomeOf(state) : assessWear(points.slice(0, k + 1), prior, limitSle);
  });
}
