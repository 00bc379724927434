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
  /** Highest of: now, and as if the unconfirmed reading were true. Null below four visits. */
  readonly score: number | null;
  /** At the visit before, where it could have reached the lower threshold; null otherwise. */
  readonly scoreBefore: number | null;
}

/** The wear library over the visits of a segment, and what it says of the readings themselves. */
export function segmentWear(
  visits: readonly Visit[],
  prior: FleetPrior,
  limits: Limits,
): SegmentWear {
  const points = wearPointsOf(visits);
  const limit = limits.idleCautionSle;
  const outcome = assessWear(points, prior, limit);
  const newest = outcome.steps.at(-1)?.day ?? null;
  const newestPoints = points.filter(({ day }) => day === newest);
  const isScored = outcome.count >= fewestVisits;
  // Said twice, a reading confirms itself: the verdict as if it were true.
  const confirmed =
    isScored && outcome.unconfirmed
      ? assessWear([...points, ...newestPoints], prior, limit).score
      : null;
  return {
    outcome,
    unconfirmedOn: outcome.unconfirmed ? newest : null,
    refutedOn: refutedDays(outcome),
    score: isScored ? Math.max(outcome.score ?? 0, confirmed ?? 0) : null,
    scoreBefore:
      outcome.count > fewestVisits && couldReach(limits.driftingScore, outcome)
        ? assessWear(points.slice(0, points.length - newestPoints.length), prior, limit).score
        : null,
  };
}

/** In order of day, since the visits are. */
export const wearPointsOf = (visits: readonly Visit[]): readonly WearPoint[] =>
  visits.flatMap(({ day, readings }) =>
    readings.flatMap(({ idleSle, lowestSle }) =>
      idleSle === null ? [] : [{ day, idleSle, lowestSle }],
    ),
  );

/** The score is P^0.7 times the earlier P^0.3, so the earlier score is at most the earlier P^0.7. */
function couldReach(threshold: number, { score, probabilityWithin1Year }: WearOutcome): boolean {
  if (!score || !probabilityWithin1Year) return false;
  const earlier = (score / probabilityWithin1Year ** 0.7) ** (1 / 0.3);
  return earlier ** 0.7 >= threshold;
}

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
