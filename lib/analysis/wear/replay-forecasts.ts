import type { FleetPrior } from '@/lib/analysis/fleet-prior';
import { assessWear, type WearPoint } from '@/lib/analysis/wear';
import type { DayNumber, Kilopascals } from '@/lib/measure';

/** What the forecast said on the day of a visit, knowing no later one. */
export interface ReplayedVisit {
  readonly day: DayNumber;
  readonly count: number;
  readonly score: number;
  readonly asksReread: boolean;
  readonly earliest90: DayNumber | null;
  readonly earliest80: DayNumber | null;
  readonly median: DayNumber | null;
  readonly latest80: DayNumber | null;
  readonly latest90: DayNumber | null;
}

/** Replays one segment as it was known at each visit, under the prior that `priorOn` knew that day. */
export function replayForecasts(
  points: readonly WearPoint[],
  priorOn: (day: DayNumber) => FleetPrior,
  limitSle: Kilopascals,
): ReplayedVisit[] {
  return points.map(({ day }, k) => {
    const outcome = assessWear(points.slice(0, k + 1), priorOn(day), limitSle);
    const passage = outcome.passage(limitSle, { asOf: day, nextReadingOn: null, horizonDays: 91 });
    return {
      day,
      count: outcome.count,
      score: outcome.score ?? 0,
      asksReread: outcome.steps.at(-1)?.asksReread ?? false,
      earliest90: passage.earliest90,
      earliest80: passage.earliest80,
      median: passage.median,
      latest80: passage.latest80,
      latest90: passage.latest90,
    };
  });
}
