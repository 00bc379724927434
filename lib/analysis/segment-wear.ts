import type { FleetPrior } from '@/lib/analysis/fleet-prior';
import type { Limits } from '@/lib/analysis/limits';
import type { Visit } from '@/lib/analysis/visits';
import { assessWear, type WearOutcome, type WearPoint } from '@/lib/analysis/wear';
import type { DayNumber } from '@/lib/measure';

/** No wear score alarms before this many visits. */
export const fewestVisits = 4;

export interface SegmentWear {
  readonly outcome: WearOutcome;
  /** Newest idle visit that surprises, with no second reading that day to agree. */
  readonly unconfirmedOn: DayNumber | null;
  /** Earlier visits that later ones show to have been in error. */
  readonly refutedOn: ReadonlySet<DayNumber>;
  /** Highest of: now, and as if an unconfirmed low reading were true. Null below four visits. */
  readonly score: number | null;
  /** At the visit before; null where that was not scored. */
  readonly scoreBefore: number | null;
}

/** The wear library over the visits of a segment, and what it says of the readings themselves. */
export function segmentWear(
  visits: readonly Visit[],
  prior: FleetPrior,
  limits: Limits,
): SegmentWear {
  const outcome = assessWear(wearPointsOf(visits), prior, limits.idleCautionSle);
  const newest = outcome.steps.at(-1)?.day ?? null;
  return {
    outcome,
    unconfirmedOn: outcome.unconfirmed ? newest : null,
    refutedOn: refutedDays(outcome),
    score: outcome.count >= fewestVisits ? Math.max(outcome.score ?? 0, outcome.scoreIfTrue) : null,
    scoreBefore: outcome.count > fewestVisits ? outcome.scoreBefore : null,
  };
}

/** In order of day, since the visits are. */
export const wearPointsOf = (visits: readonly Visit[]): readonly WearPoint[] =>
  visits.flatMap(({ day, readings }) =>
    readings.flatMap(({ idleSle, lowestSle }) =>
      idleSle === null ? [] : [{ day, idleSle, lowestSle }],
    ),
  );

function refutedDays(outcome: WearOutcome): ReadonlySet<DayNumber> {
  const earlier = outcome.steps.slice(0, -1);
  if (!earlier.some(({ asksReread }) => asksReread)) return new Set();
  const inError = outcome.hindsight();
  return new Set(
    earlier
      .filter(({ asksReread }, k) => asksReread && (inError[k] ?? 0) > 0.5)
      .map(({ day }) => day),
  );
}
