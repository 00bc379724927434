import type { WearVisit } from '@/lib/analysis/wear/wear-visits';
import { median } from '@/lib/analysis/wear/wear-visits';

/** How *lowest* follows idle over a fleet, so that it can speak of idle too. psi. */
export interface LowestSignal {
  /** lowest = intercept + slope idle. */
  readonly slope: number;
  readonly intercept: number;
  /** Share of lowest, in idle's terms, in the combination. */
  readonly weight: number;
  /** Beyond this difference between the two, one of them is taken to be mis-keyed. */
  readonly disagreement: number;
}

const deviationsPerMad = 1.4826;
/** Fewer pairs than this tell too little of the slope. */
const fewestPairs = 200;
const leastSlope = 0.2;
const robustDeviationsKept = 4;
const trimmingRounds = 4;

const robustVariance = (values: readonly number[]): number => {
  const middle = median(values);
  return (deviationsPerMad * median(values.map((value) => Math.abs(value - middle)))) ** 2;
};

interface Pair {
  readonly idle: number;
  readonly lowest: number;
}

const pairsOf = (visits: readonly WearVisit[]): Pair[] =>
  visits.flatMap(({ idle, lowest }) => (lowest === null ? [] : [{ idle, lowest }]));

/** Each value against the mean of its neighbours: what noise leaves when slow wear is taken away. */
const bendsOf = (values: readonly number[]): number[] =>
  values.slice(1, -1).map((value, k) => value - (values[k]! + values[k + 2]!) / 2);

/**
 * Learns how lowest follows idle: least squares over the fleet's pairs, trimmed at four robust
 * deviations, freed of the noise of both (method of moments for errors in variables, Fuller 1987);
 * the weight is the one of least variance. Null for fewer than 200 pairs, or when lowest hardly
 * follows idle or is too noisy to help.
 */
export function learnLowestSignal(
  segments: readonly (readonly WearVisit[])[],
): LowestSignal | null {
  const series = segments.map(pairsOf);
  let pairs = series.flat();
  if (pairs.length < fewestPairs) return null;
  const idleBends = series.flatMap((s) => bendsOf(s.map(({ idle }) => idle)));
  const lowestBends = series.flatMap((s) => bendsOf(s.map(({ lowest }) => lowest)));
  const noiseOf = (bends: readonly number[]) => robustVariance(bends) / 1.5;
  const idleNoise = noiseOf(idleBends);
  const lowestNoise = noiseOf(lowestBends);
  const sharedNoise =
    (noiseOf(idleBends.map((bend, k) => bend + lowestBends[k]!)) -
      noiseOf(idleBends.map((bend, k) => bend - lowestBends[k]!))) /
    4;

  let slope = 0;
  let intercept = 0;
  const all = pairs;
  for (let round = 0; round < trimmingRounds; round++) {
    const n = pairs.length;
    const idleMean = pairs.reduce((sum, { idle }) => sum + idle, 0) / n;
    const lowestMean = pairs.reduce((sum, { lowest }) => sum + lowest, 0) / n;
    let variance = 0;
    let covariance = 0;
    for (const { idle, lowest } of pairs) {
      variance += (idle - idleMean) ** 2 / n;
      covariance += ((idle - idleMean) * (lowest - lowestMean)) / n;
    }
    if (variance <= 2 * idleNoise) return null;
    slope = (covariance - sharedNoise) / (variance - idleNoise);
    intercept = lowestMean - slope * idleMean;
    const residuals = all.map(({ idle, lowest }) => lowest - intercept - slope * idle);
    const most = robustDeviationsKept * Math.sqrt(robustVariance(residuals));
    const centre = median(residuals);
    pairs = all.filter((_, k) => Math.abs(residuals[k]! - centre) <= most);
  }
  if (slope < leastSlope) return null;
  const shared = sharedNoise / slope;
  const ownNoise = lowestNoise / slope ** 2;
  const weight = (idleNoise - shared) / (idleNoise + ownNoise - 2 * shared);
  if (!(weight > 0.02)) return null;
  const differences = all.map(({ idle, lowest }) => (lowest - intercept) / slope - idle);
  return {
    slope,
    intercept,
    weight: Math.min(weight, 0.5),
    disagreement: robustDeviationsKept * Math.sqrt(robustVariance(differences)),
  };
}

/**
 * One value in idle's terms from idle and lowest: their weighted mean, or, where they disagree, the
 * one nearer to the last value. `combineSignals(13, null, signal, 13)` is 13.
 */
export function combineSignals(
  idle: number,
  lowest: number | null,
  signal: LowestSignal,
  last: number,
): number {
  if (lowest === null) return idle;
  const other = (lowest - signal.intercept) / signal.slope;
  if (Math.abs(other - idle) > signal.disagreement)
    return Math.abs(other - last) < Math.abs(idle - last) ? other : idle;
  return idle + signal.weight * (other - idle);
}
