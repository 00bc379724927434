import { normal } from '@/lib/statistics/normal';
import { pairSlopeRanks } from '@/lib/statistics/pair-slope-ranks';
import { requireConfidence, requireSamples, type Samples } from '@/lib/statistics/require-samples';
import {
  sortCountingInversions,
  type TieCorrections,
  tieCorrections,
} from '@/lib/statistics/sort-counting-inversions';

export type TheilSen =
  | {
      readonly slope: number;
      readonly intercept: number;
      /** Confidence limits of the slope. */
      readonly lower: number;
      readonly upper: number;
      readonly whyNone: null;
    }
  | {
      readonly slope: null;
      readonly intercept: null;
      readonly lower: null;
      readonly upper: null;
      readonly whyNone: 'too few' | 'no spread in x';
    };

let xs = new Float64Array(64);
let ys = new Float64Array(64);
let orderedX = new Float64Array(64);
let orderedY = new Float64Array(64);
/** Lower limit, the two middle ranks, upper limit. */
const ranks = new Int32Array(4);
const slopes = new Float64Array(4);

const middleOf = (sorted: Float64Array, n: number): number =>
  (sorted[(n - 1) >> 1]! + sorted[n >> 1]!) / 2;

/** To the nearest whole number, halves to the even one. */
function roundHalfEven(value: number): number {
  const floor = Math.floor(value);
  const part = value - floor;
  return part > 0.5 || (part === 0.5 && floor % 2 !== 0) ? floor + 1 : floor;
}

let lastConfidence = 0;
let lastDeviate = 0;
function deviateFor(confidence: number): number {
  if (confidence !== lastConfidence) {
    lastDeviate = -normal.quantile((1 - confidence) / 2);
    lastConfidence = confidence;
  }
  return lastDeviate;
}

/**
 * Theil-Sen line: the median of the slopes of all pairs, so that one mis-keyed reading cannot turn
 * it. Slope in units of y a unit of x; intercept = median(y) - slope median(x).
 *
 * The limits are the pair slopes at ranks (N ∓ z sigma)/2 rounded half to even, counted from one
 * below and from nought above, with sigma² = (n(n-1)(2n+5) - ties in x - ties in y) / 18.
 * Source: Sen, Journal of the American Statistical Association 63 (1968) 1379-1389, equation 2.6.
 *
 * Fewer than two points: `too few`. All at one x: `no spread in x`. With two points, or few, the
 * limits are the extreme slopes and cover less than asked.
 *
 * @throws RangeError on a confidence outside 0 to 1
 * @example theilSen([1, 2, 3, 4, 5], [1.26, 1.27, 1.12, 1.16, 1.03], 0.9).slope -> -0.05625
 */
export function theilSen(x: Samples, y: Samples, confidence: number): TheilSen {
  requireConfidence(confidence);
  requireSamples(x, y);
  const n = y.length;
  if (orderedY.length < n) orderedY = new Float64Array(2 * n);
  for (let i = 0; i < n; i++) orderedY[i] = y[i]!;
  sortCountingInversions(orderedY, n);
  return theilSenFrom(x, y, confidence, orderedY, tieCorrections(orderedY, n));
}

/** The line where the values of y have been sorted already. */
export function theilSenFrom(
  x: Samples,
  y: Samples,
  confidence: number,
  sortedY: Float64Array,
  tiesY: TieCorrections,
): TheilSen {
  const n = x.length;
  if (n < 2) return none('too few');
  if (xs.length < n) {
    xs = new Float64Array(2 * n);
    ys = new Float64Array(2 * n);
    orderedX = new Float64Array(2 * n);
  }
  for (let i = 0; i < n; i++) {
    xs[i] = x[i]!;
    ys[i] = y[i]!;
    orderedX[i] = x[i]!;
  }
  sortCountingInversions(orderedX, n);
  const tiesX = tieCorrections(orderedX, n);
  const count = (n * (n - 1)) / 2 - tiesX.pairs;
  if (count === 0) return none('no spread in x');
  // Ties in x and in y are taken off separately, which can overshoot when both are heavy.
  const sigma = Math.sqrt(
    Math.max(0, n * (n - 1) * (2 * n + 5) - tiesX.variance - tiesY.variance) / 18,
  );
  const deviate = deviateFor(confidence);
  ranks[0] = Math.max(roundHalfEven((count - deviate * sigma) / 2) - 1, 0);
  ranks[1] = (count - 1) >> 1;
  ranks[2] = count >> 1;
  ranks[3] = Math.min(roundHalfEven((count + deviate * sigma) / 2), count - 1);
  pairSlopeRanks(xs, ys, n, ranks, deviate + 1, slopes);
  // Adding nought turns -0 into 0.
  const slope = (slopes[1]! + slopes[2]!) / 2 + 0;
  return {
    slope,
    intercept: middleOf(sortedY, n) - slope * middleOf(orderedX, n) + 0,
    lower: slopes[0]! + 0,
    upper: slopes[3]! + 0,
    whyNone: null,
  };
}

const none = (whyNone: 'too few' | 'no spread in x'): TheilSen => ({
  slope: null,
  intercept: null,
  lower: null,
  upper: null,
  whyNone,
});
