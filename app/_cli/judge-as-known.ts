import { forecastOutcomes, learnRecalibration } from '@/lib/analysis/backtest/recalibration';
import { outcomesOf, replayForecasts } from '@/lib/analysis/backtest/replay-forecasts';
import type { JudgedSegment, KnownSegment } from '@/lib/analysis/backtest/score-forecasts';
import { defaultFleetPrior, type FleetPrior, learnFleetPrior } from '@/lib/analysis/fleet-prior';
import { defaultLimits } from '@/lib/analysis/limits';
import { dayFromIso, isoFromDay } from '@/lib/calendar';
import type { DayNumber } from '@/lib/measure';

/** What a prior may have been learnt from. */
export type Learning = 'yearly' | 'folds' | 'never';
const foldCount = 3;

/** The prior that a segment's forecasts of a day may rest on. */
type PriorOf = (segment: KnownSegment, day: DayNumber) => FleetPrior;

/** The units in parts, each beside what is learnt from for it. */
function foldsOf(segments: readonly KnownSegment[]) {
  const units = [...new Set(segments.map(({ unit }) => unit))];
  const foldOf = new Map(units.map((unit, k) => [unit, k % foldCount]));
  return Array.from({ length: foldCount }, (_, fold) => ({
    own: segments.filter(({ unit }) => foldOf.get(unit) === fold),
    others: segments.filter(({ unit }) => foldOf.get(unit) !== fold),
  }));
}

export function priorsOf(segments: readonly KnownSegment[], learning: Learning): PriorOf {
  if (learning === 'never') return () => defaultFleetPrior;
  if (learning === 'folds') {
    const priors = foldsOf(segments).flatMap(({ own, others }) => {
      const prior = learnFleetPrior(others.map(({ points }) => points));
      return own.map((segment) => [segment, prior] as const);
    });
    const priorOf = new Map(priors);
    return (segment) => priorOf.get(segment)!;
  }
  const known = new Map<string, FleetPrior>();
  return (_, day) => {
    const year = isoFromDay(day).slice(0, 4);
    let prior = known.get(year);
    if (!prior) {
      const newYear = dayFromIso(`${year}-01-01`)!;
      prior = learnFleetPrior(
        segments.map(({ points }) => points.filter((point) => point.day < newYear)),
      );
      known.set(year, prior);
    }
    return prior;
  };
}

export function judge(segments: readonly KnownSegment[], priorOf: PriorOf): JudgedSegment[] {
  return segments.map((segment) => ({
    ...segment,
    visits: replayForecasts(
      segment.points,
      (day) => priorOf(segment, day),
      defaultLimits.idleCautionSle,
    ),
  }));
}

/** The same with dates recalibrated; prior and recalibration both from the other two thirds of the units. */
export function judgeRecalibrated(
  segments: readonly KnownSegment[],
  priorOf: PriorOf,
): JudgedSegment[] {
  const limit = defaultLimits.idleCautionSle;
  return foldsOf(segments).flatMap(({ own, others }) => {
    const [one] = own;
    if (!one) return [];
    const priorOn = (day: DayNumber) => priorOf(one, day);
    const recalibrate = learnRecalibration(
      others.flatMap((segment) =>
        forecastOutcomes(segment, outcomesOf(segment.points, priorOn, limit), limit),
      ),
    );
    return own.map((segment) => ({
      ...segment,
      visits: replayForecasts(segment.points, priorOn, limit, recalibrate),
    }));
  });
}
