import type { FleetPrior } from '@/lib/analysis/fleet-prior';
import type { Limits } from '@/lib/analysis/limits';
import type { Visit } from '@/lib/analysis/visits';
import { assessWear, type WearOutcome, type WearPoint } from '@/lib/analysis/wear';
import { type DayNumber, type Kilopascals, kilopascalsPerUnit } from '@/lib/measure';
import { median } from '@/lib/statistics';

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
  const ifTrue =
    isScored && outcome.unconfirmed && newest !== null
      ? worstScoreIfTrue(points, outcome, newest, prior, limit)
      : 0;
  return {
    outcome,
    unconfirmedOn: outcome.unconfirmed ? newest : null,
    refutedOn: refutedDays(outcome),
    score: isScored ? Math.max(outcome.score ?? 0, ifTrue) : null,
    scoreBefore:
      outcome.count > fewestVisits && couldReach(limits.driftingScore, outcome)
        ? assessWear(points.slice(0, points.length - newestPoints.length), prior, limit).score
        : null,
  };
}

/** Standard deviations below the expected value at which an unconfirmed reading is tried. */
const surprises = [2.8, 2.9, 3, 3.2, 3.5, 4, 5, 6, 8] as const;

/**
 * Highest score if an unconfirmed low reading were true, or any less low one down to it: the library
 * softens what is improbable, and a worse reading must not count for less.
 */
function worstScoreIfTrue(
  points: readonly WearPoint[],
  { levelNow, levelDeviation }: WearOutcome,
  newest: DayNumber,
  prior: FleetPrior,
  limitSle: Kilopascals,
): number {
  const earlier = points.filter(({ day }) => day !== newest);
  const read = median(points.slice(earlier.length).map(({ idleSle }) => idleSle));
  if (read === null || levelNow === null || levelDeviation === null) return 0;
  const deviation = Math.hypot(levelDeviation, prior.noise * kilopascalsPerUnit.psi);
  let worst = 0;
  for (const surprise of surprises) {
    const idleSle = Math.max(read, levelNow - surprise * deviation);
    const tried = { day: newest, idleSle };
    // Said twice, a reading confirms itself.
    worst = Math.max(worst, assessWear([...earlier, tried, tried], prior, limitSle).score ?? 0);
    if (idleSle === read) break;
  }
  return worst;
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
