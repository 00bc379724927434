import { observedSegment } from '@/lib/analysis/backtest/observed-segment';
import { fewestVisits, type KnownSegment } from '@/lib/analysis/backtest/score-forecasts';
import type { WearOutcome } from '@/lib/analysis/wear';
import { crossingQuantile, horizonDays } from '@/lib/analysis/wear/below-limit';
import type { DayNumber, Kilopascals } from '@/lib/measure';

/** A forecast beside what came of it. */
export interface ForecastOutcome {
  /** Whose forecast: those of one segment count as one together. */
  readonly segment: string;
  /** Forecast probability of having crossed by the crossing, or by the last day without one. */
  readonly probability: number;
  readonly hasCrossed: boolean;
}

/** Forecast probability of having crossed -> the one that the fleet's own crossings bear out. */
export type Recalibration = (probability: number) => number;

const fewestCrossings = 30;
/** The recalibration counts as much as the forecast itself at this many crossings. */
const crossingsOfTrust = 20;

/**
 * Conformal recalibration: how probabilities forecast came out. Kaplan-Meier of the probabilities at
 * which crossings came, forecasts without a crossing yet censored, each segment of n forecasts weighted
 * 1/n a forecast; between crossings by line, and shrunk towards the forecast by
 * crossings / (crossings + 20). Fewer than 30 segments that crossed: the forecast as it is.
 *
 * Source: Vovk, Gammerman and Shafer, Algorithmic Learning in a Random World (2005), for the idea;
 * Kaplan and Meier (1958) for the censored; weights and shrinking are our own.
 *
 * @example learnRecalibration([])(0.3) is 0.3
 */
export function learnRecalibration(outcomes: readonly ForecastOutcome[]): Recalibration {
  const crossings = new Set(outcomes.filter((o) => o.hasCrossed).map((o) => o.segment)).size;
  if (crossings < fewestCrossings) return (probability) => probability;
  const counts = new Map<string, number>();
  for (const { segment } of outcomes) counts.set(segment, (counts.get(segment) ?? 0) + 1);
  // A crossing comes before a censoring at the same probability, as the estimator has it.
  const inOrder = [...outcomes].sort(
    (a, b) => a.probability - b.probability || Number(b.hasCrossed) - Number(a.hasCrossed),
  );
  let atRisk = counts.size;
  let left = 1;
  const corners: [number, number][] = [[0, 0]];
  const put = (forecast: number, borne: number) => {
    if (corners.at(-1)![0] === forecast) corners.pop();
    corners.push([forecast, borne]);
  };
  for (const { segment, probability, hasCrossed } of inOrder) {
    const weight = 1 / counts.get(segment)!;
    if (hasCrossed) {
      left *= Math.max(0, 1 - weight / atRisk);
      put(probability, 1 - left);
    }
    atRisk -= weight;
  }
  put(1, 1);
  const trust = crossings / (crossings + crossingsOfTrust);
  return (probability) => {
    const at = Math.max(
      1,
      corners.findIndex(([forecast]) => forecast >= probability),
    );
    const [[from, low], [to, high]] = [corners[at - 1]!, corners[at]!];
    const borne = low + ((high - low) * (probability - from)) / (to - from);
    return trust * borne + (1 - trust) * probability;
  };
}

/** What came of a segment's forecasts as far as its own readings tell; none where they tell nothing. */
export function forecastOutcomes(
  { unit, points, crossedInService }: KnownSegment,
  outcomes: readonly WearOutcome[],
  limitSle: Kilopascals,
): ForecastOutcome[] {
  const last = points.at(-1)!;
  const isRepaired = crossedInService && last.idleSle < limitSle;
  const observed = observedSegment(unit, points, isRepaired, limitSle);
  if (!observed) return [];
  const end = observed.crossing ?? last.day;
  return outcomes.flatMap((outcome, k) => {
    const { day } = points[k]!;
    if (outcome.count < fewestVisits || day >= end) return [];
    return {
      segment: `${unit} ${points[0]!.day}`,
      probability: probabilityWithin(outcome, day, end - day, limitSle),
      hasCrossed: observed.crossing !== null,
    };
  });
}

const probabilityWithin = (
  outcome: WearOutcome,
  asOf: DayNumber,
  days: number,
  limitSle: Kilopascals,
) =>
  outcome.passage(limitSle, { asOf, nextReadingOn: null, horizonDays: days })
    .probabilityWithinHorizon!;

/** Dates of a visit's forecast, recalibrated; none from fewer than four visits. */
export function recalibratedDates(
  outcome: WearOutcome,
  day: DayNumber,
  limitSle: Kilopascals,
  recalibrate: Recalibration,
) {
  const crossed = Float64Array.from(horizonDays, (days) =>
    recalibrate(probabilityWithin(outcome, day, days, limitSle)),
  );
  const dateOf = (probability: number): DayNumber | null => {
    const ahead = outcome.count < fewestVisits ? null : crossingQuantile(crossed, probability);
    return ahead === null ? null : day + Math.round(ahead);
  };
  return {
    earliest90: dateOf(0.05),
    earliest80: dateOf(0.1),
    median: dateOf(0.5),
    latest80: dateOf(0.9),
    latest90: dateOf(0.95),
  };
}
