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
const fewestPairs = 100;
const fewestVisits = 3;
const leastSlope = 0.2;
const greatestSlopeError = 0.06;
const leastWeight = 0.05;
const greatestWeight = 0.5;
const robustDeviationsKept = 4;
const trimmingRounds = 4;

const robustVariance = (values: readonly number[]): number => {
  const middle = median(values);
  return (deviationsPerMad * median(values.map((value) => Math.abs(value - middle)))) ** 2;
};

const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0);
const mean = (values: readonly number[]) => sum(values) / values.length;

interface Pair {
  readonly idle: number;
  readonly lowest: number;
}

const pairsOf = (visits: readonly WearVisit[]): Pair[] =>
  visits.flatMap(({ idle, lowest }) => (lowest === null ? [] : [{ idle, lowest }]));

/** Each value against the mean of its neighbours: what noise leaves when slow wear is taken away. */
const bendsOf = (values: readonly number[]): number[] =>
  values.slice(1, -1).map((value, k) => value - (values[k]! + values[k + 2]!) / 2);

/** Pairs of one segment about their own means: units differ in level, wear moves both together. */
const centred = (pairs: readonly Pair[]): Pair[] => {
  const idle = mean(pairs.map((pair) => pair.idle));
  const lowest = mean(pairs.map((pair) => pair.lowest));
  return pairs.map((pair) => ({ idle: pair.idle - idle, lowest: pair.lowest - lowest }));
};

function neighbourMoments(series: readonly (readonly Pair[])[]) {
  let neighbours = 0;
  let wear = 0;
  let together = 0;
  for (const pairs of series) {
    for (let k = 1; k < pairs.length; k++) {
      const before = pairs[k - 1]!;
      const after = pairs[k]!;
      wear += before.idle * after.idle;
      together += (before.idle * after.lowest + after.idle * before.lowest) / 2;
      neighbours++;
    }
  }
  return { wear: wear / neighbours, together: together / neighbours, neighbours };
}

/** A slip of unit moves both along a line of its own: it must not bend the slope. */
const withoutSpikes = (pairs: readonly Pair[], noise: number): readonly Pair[] =>
  pairs.filter(({ idle }, k) => {
    const first = Math.min(Math.max(k - 1, 0), pairs.length - 3);
    const usual = median(pairs.slice(first, first + 3).map((pair) => pair.idle));
    return Math.abs(idle - usual) <= robustDeviationsKept * noise;
  });

/**
 * Learns how lowest follows idle as units wear. Each visit's idle stands in for its neighbour's: what
 * neighbours share is wear, not noise, so the noise of neither bends the slope (instrumental variables,
 * Wald 1940 is the idea); trimmed at four deviations. The weight is the one of least variance. Null
 * while the slope is not known to 6% (too few pairs, or no wear seen yet), or when lowest hardly
 * follows idle or does not help.
 */
export function learnLowestSignal(
  segments: readonly (readonly WearVisit[])[],
): LowestSignal | null {
  const series = segments.map(pairsOf).filter((pairs) => pairs.length >= fewestVisits);
  const all = series.flat();
  if (all.length < fewestPairs) return null;
  const idleBends = series.flatMap((pairs) => bendsOf(pairs.map(({ idle }) => idle)));
  const lowestBends = series.flatMap((pairs) => bendsOf(pairs.map(({ lowest }) => lowest)));
  const noiseOf = (bends: readonly number[]) => robustVariance(bends) / 1.5;
  const idleNoise = noiseOf(idleBends);
  const lowestNoise = noiseOf(lowestBends);
  const sharedNoise =
    (noiseOf(idleBends.map((bend, k) => bend + lowestBends[k]!)) -
      noiseOf(idleBends.map((bend, k) => bend - lowestBends[k]!))) /
    4;

  const steady = series.map((pairs) => withoutSpikes(pairs, Math.sqrt(idleNoise)));
  let kept = steady;
  let slope = 0;
  for (let round = 0; round < trimmingRounds; round++) {
    const { wear, together, neighbours } = neighbourMoments(kept.map(centred));
    slope = together / wear;
    const noise = lowestNoise + slope * slope * idleNoise;
    const error = Math.sqrt((noise * (wear + idleNoise)) / neighbours) / wear;
    if (!(wear > 0 && slope >= leastSlope && error <= greatestSlopeError * slope)) return null;
    kept = steady.map((segment) => {
      const residuals = segment.map(({ idle, lowest }) => lowest - slope * idle);
      const middle = median(residuals);
      const most = robustDeviationsKept * Math.sqrt(noise);
      return segment.filter((_, k) => Math.abs(residuals[k]! - middle) <= most);
    });
  }
  const shared = sharedNoise / slope;
  const weight = (idleNoise - shared) / (idleNoise + lowestNoise / slope ** 2 - 2 * shared);
  if (!(weight >= leastWeight)) return null;
  const intercept = median(all.map(({ idle, lowest }) => lowest - slope * idle));
  const differences = all.map(({ idle, lowest }) => (lowest - intercept) / slope - idle);
  return {
    slope,
    intercept,
    weight: Math.min(weight, greatestWeight),
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
