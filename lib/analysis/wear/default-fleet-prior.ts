import type { LowestSignal } from '@/lib/analysis/wear/combine-signals';
import { onsetYears, spanYears, stepSizes, stepYears } from '@/lib/analysis/wear/wear-curves';

/**
 * What the fleet as a whole says about a segment before its first visit: plain JSON, in psi and
 * years, the working units of the wear library.
 *
 * The weight of a smooth curve is (1 - stepShare) onset[c] bend[A, p], of a step
 * stepShare time[c] stepSize[s]; pumps that wear from the start and those that begin to later bend in
 * ways of their own. The times of steps are spread evenly over 20 years.
 */
export interface FleetPrior {
  /** Segments learnt from; 0 is the default. */
  readonly segments: number;
  /** Idle vacuum, SLE, at the first visit of a segment, and its standard deviation. */
  readonly startLevel: number;
  readonly startDeviation: number;
  /** Standard deviation of one visit about the true vacuum. */
  readonly noise: number;
  /** Variance of wear about its curve, psi squared for each psi lost. */
  readonly wearNoise: number;
  /** Share of visits that are in error, and the scale of their Cauchy spread. */
  readonly errorShare: number;
  readonly errorSpread: number;
  /** Probabilities, each list summing to 1, in the order of the library's grid. */
  readonly onset: readonly number[];
  readonly bend: readonly number[];
  /** `bend` of the curves that begin after the first visit; absent, as by default, it is the same. */
  readonly laterBend?: readonly number[];
  readonly stepShare: number;
  readonly stepSize: readonly number[];
  /** How *lowest* follows idle; null leaves it out. */
  readonly lowestSignal: LowestSignal | null;
  /** Power of the wear score that evens out false alarms between fleets; absent, as by default, it is 1. */
  readonly alarmPower?: number;
}

const shares = (weights: readonly number[]): number[] => {
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  return weights.map((weight) => weight / total);
};

/** Middles between neighbours, closed by the given ends: the cell that each grid value stands for. */
const cells = (grid: readonly number[], from: number, to: number) =>
  grid.map((value, k) => [
    k === 0 ? from : (grid[k - 1]! + value) / 2,
    k === grid.length - 1 ? to : (value + grid[k + 1]!) / 2,
  ]) as [number, number][];

const alreadyWearing = 0.25;
const onsetsAYear = 0.12;
const medianSpan = 3;
const spanLogDeviation = 1.1;

/** Share of the already wearing at the onsets -2, -1, -0.5 and 0 years. */
const wearingShares = [0.2, 0.2, 0.2, 0.4];
const laterOnsets = cells(onsetYears.slice(4), 0.125, 25).map(
  ([from, to]) =>
    (1 - alreadyWearing) * (Math.exp(-onsetsAYear * from) - Math.exp(-onsetsAYear * to)),
);

/** Chance of each step time, even over the 20 years after tracking begins. */
export const stepTime: readonly number[] = cells(stepYears, 0, 20).map(
  ([from, to]) => (to - from) / 20,
);

/**
 * A fleet nothing is known of. Assumed, not measured: a quarter already wearing when tracking starts,
 * onsets at 0.12 a year, spans lognormal about 3 years, 8% sudden failures, readings good to 0.3 psi
 * with 4% in error.
 */
export const defaultFleetPrior: FleetPrior = {
  segments: 0,
  startLevel: 13,
  startDeviation: 0.6,
  noise: 0.3,
  wearNoise: 0.06,
  errorShare: 0.04,
  errorSpread: 1.5,
  onset: shares([...wearingShares.map((share) => share * alreadyWearing), ...laterOnsets]),
  bend: shares(
    spanYears.flatMap((span) => {
      const z = Math.log(span / medianSpan) / spanLogDeviation;
      return new Array<number>(3).fill(Math.exp(-0.5 * z * z));
    }),
  ),
  stepShare: 0.08,
  stepSize: stepSizes.map(() => 1 / stepSizes.length),
  lowestSignal: null,
};
