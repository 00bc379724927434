import type { ReplayedVisit } from '@/lib/analysis/backtest/replay-forecasts';
import type { WearPoint } from '@/lib/analysis/wear';
import { daysPerYear } from '@/lib/analysis/wear/below-limit';
import type { DayNumber } from '@/lib/measure';

/** One segment as read, and what is true of it. */
export interface KnownSegment {
  readonly unit: string;
  readonly points: readonly WearPoint[];
  /** For each point whether it is in error. */
  readonly isInError: readonly boolean[];
  readonly isStable: boolean;
  /** Failed all at once: nothing could have foretold it. */
  readonly isSudden: boolean;
  /** Day the true level met the limit, in service or not; null when it never did. */
  readonly crossing: DayNumber | null;
  readonly crossedInService: boolean;
}

/** A known segment beside its replay, a visit for each point. */
export interface JudgedSegment extends KnownSegment {
  readonly visits: readonly ReplayedVisit[];
}

export interface ForecastScores {
  readonly flaggedForecasts: number;
  readonly coverage80: number | null;
  readonly coverage90: number | null;
  /** Median width of the 80% interval of flagged forecasts, days; open ends count as 10 years. */
  readonly width80: number | null;
  readonly stableYears: number;
  readonly falseAlarmsPer1000Years: number | null;
  readonly crossings: number;
  readonly flaggedBefore: number | null;
  readonly flagged90DaysAhead: number | null;
  /** Median absolute error of the forecast's median, days, 1, 2 and 3 readings before the crossing. */
  readonly medianAbsoluteError: readonly (number | null)[];
  readonly prognosticHorizon: number | null;
  readonly alphaLambda: number | null;
  readonly soundReadings: number;
  readonly soundAskedAgain: number | null;
  readonly soundRejected: number | null;
}

const alarm = 0.18;
export const fewestVisits = 4;
const openEnd = 3650;
const horizonBand = 90;
const alpha = 0.2;
const lambda = 0.5;

const share = (hits: number, of: number): number | null => (of === 0 ? null : hits / of);
const middle = (values: readonly number[]): number | null =>
  values.length === 0 ? null : [...values].sort((a, b) => a - b)[values.length >> 1]!;
/** An alarm: a wear score at the threshold from four visits on. */
export const isFlagged = (visit: ReplayedVisit, threshold = alarm): boolean =>
  visit.count >= fewestVisits && visit.score >= threshold;
const within = (day: DayNumber, earliest: DayNumber | null, latest: DayNumber | null) =>
  earliest !== null && earliest <= day && (latest === null || day <= latest);

/**
 * Scores of a fleet replayed as it was known.
 *
 * Coverage and width: forecasts at flagged visits (A >= 0.18, n >= 4) before a crossing that is known.
 * False alarms: visits of stable segments at which a flag goes up, per 1,000 years under observation.
 * Flagged before, lead and errors: gradual segments that crossed in service with at least four visits
 * before; a median beyond 10 years errs by 10 years. Prognostic horizon: median days from which on
 * every median stays within 90 days of the crossing (constant band). Alpha-lambda: share of segments
 * whose median half way from the first flag to the crossing is within 20% of the time then left (cone).
 * Both after Saxena et al. (2010). Sound readings asked again: |z| > 3 at the time; rejected: held in
 * error in the light of the whole segment.
 */
export function scoreForecasts(
  segments: readonly JudgedSegment[],
  threshold = alarm,
): ForecastScores {
  let flagged = 0;
  let in80 = 0;
  let in90 = 0;
  const widths: number[] = [];
  let stableYears = 0;
  let falseAlarms = 0;
  let crossings = 0;
  let before = 0;
  let ahead = 0;
  const errors: number[][] = [[], [], []];
  const horizons: number[] = [];
  let cones = 0;
  let inCone = 0;
  let sound = 0;
  let askedAgain = 0;
  let rejected = 0;
  for (const segment of segments) {
    const { visits, crossing } = segment;
    visits.forEach((visit, k) => {
      if (segment.isInError[k]) return;
      sound++;
      if (visit.asksReread) askedAgain++;
      if (visit.errorInHindsight > 0.5) rejected++;
    });
    if (segment.isStable) {
      stableYears += (visits.at(-1)!.day - visits[0]!.day) / daysPerYear;
      falseAlarms += visits.filter(
        (visit, k) =>
          isFlagged(visit, threshold) && (k === 0 || !isFlagged(visits[k - 1]!, threshold)),
      ).length;
    }
    if (crossing === null) continue;
    const until = visits.filter((visit) => visit.day < crossing);
    for (const visit of until) {
      if (!isFlagged(visit, threshold)) continue;
      flagged++;
      if (within(crossing, visit.earliest80, visit.latest80)) in80++;
      if (within(crossing, visit.earliest90, visit.latest90)) in90++;
      widths.push(
        (visit.latest80 ?? visit.day + openEnd) - (visit.earliest80 ?? visit.day + openEnd),
      );
    }
    if (!segment.crossedInService || segment.isSudden || until.length < fewestVisits) continue;
    crossings++;
    const first = until.find((visit) => isFlagged(visit, threshold));
    if (first) {
      before++;
      if (crossing - first.day >= horizonBand) ahead++;
    }
    const errorOf = (visit: ReplayedVisit) =>
      visit.median === null ? openEnd : Math.abs(visit.median - crossing);
    errors.forEach((list, k) => {
      const visit = until[until.length - 1 - k];
      if (visit && visit.count >= fewestVisits) list.push(errorOf(visit));
    });
    let from = until.length;
    while (from > 0 && errorOf(until[from - 1]!) <= horizonBand) from--;
    horizons.push(from < until.length ? crossing - until[from]!.day : 0);
    if (first) {
      const half = first.day + lambda * (crossing - first.day);
      const visit = until.findLast((candidate) => candidate.day <= half)!;
      cones++;
      if (errorOf(visit) <= alpha * (crossing - visit.day)) inCone++;
    }
  }
  return {
    flaggedForecasts: flagged,
    coverage80: share(in80, flagged),
    coverage90: share(in90, flagged),
    width80: middle(widths),
    stableYears,
    falseAlarmsPer1000Years: stableYears === 0 ? null : (1000 * falseAlarms) / stableYears,
    crossings,
    flaggedBefore: share(before, crossings),
    flagged90DaysAhead: share(ahead, crossings),
    medianAbsoluteError: errors.map(middle),
    prognosticHorizon: middle(horizons),
    alphaLambda: share(inCone, cones),
    soundReadings: sound,
    soundAskedAgain: share(askedAgain, sound),
    soundRejected: share(rejected, sound),
  };
}
