import { medianInPlace } from '@/lib/statistics/median';
import { ordinaryLeastSquares } from '@/lib/statistics/ordinary-least-squares';
import { requireSamples, type Samples } from '@/lib/statistics/require-samples';

export type HuberLine =
  | {
      readonly intercept: number;
      readonly slope: number;
      /** Robust standard deviation about the line of the round before the last. */
      readonly scale: number;
      readonly hasConverged: boolean;
      readonly whyNone: null;
    }
  | {
      readonly intercept: null;
      readonly slope: null;
      readonly scale: null;
      readonly hasConverged: false;
      readonly whyNone: 'too few' | 'no spread in x';
    };

const tuning = 1.345;
const tolerance = 1e-4;
const mostRounds = 20;

/**
 * Straight line by Huber's M-estimator: residuals within 1.345 scales count in full, larger ones in
 * proportion to their inverse. Reweighted least squares from the ordinary line, the scale each round
 * the median absolute residual / 0.6745, until residuals move by less than 1e-4 of their length.
 * Source: Huber, Annals of Statistics 1 (1973) 799-821; these settings are those of R's MASS::rlm.
 *
 * Fewer than two points: `too few`. All at one x: `no spread in x`. When half the points lie on a
 * line, the scale is 0 and that round's line is returned.
 *
 * @example huberRegression([0, 1, 2, 3], [1, 2, 3, 4]).slope -> 1
 */
export function huberRegression(x: Samples, y: Samples): HuberLine {
  requireSamples(x, y);
  const start = ordinaryLeastSquares(x, y);
  if (start.whyNone !== null) {
    return {
      intercept: null,
      slope: null,
      scale: null,
      hasConverged: false,
      whyNone: start.whyNone,
    };
  }
  const n = x.length;
  let { intercept, slope } = start;
  let residuals = Float64Array.from(y, (value, i) => value - intercept - slope * x[i]!);
  let scale = 0;
  for (let round = 0; round < mostRounds; round++) {
    scale = medianInPlace(residuals.map(Math.abs), n) / 0.6745;
    if (scale === 0) return { intercept, slope, scale, hasConverged: true, whyNone: null };
    let weights = 0;
    let sumX = 0;
    let sumY = 0;
    const weight = residuals.map((residual) => Math.min(1, (tuning * scale) / Math.abs(residual)));
    for (let i = 0; i < n; i++) {
      weights += weight[i]!;
      sumX += weight[i]! * x[i]!;
      sumY += weight[i]! * y[i]!;
    }
    const meanX = sumX / weights;
    const meanY = sumY / weights;
    let sumXX = 0;
    let sumXY = 0;
    for (let i = 0; i < n; i++) {
      sumXX += weight[i]! * (x[i]! - meanX) ** 2;
      sumXY += weight[i]! * (x[i]! - meanX) * (y[i]! - meanY);
    }
    slope = sumXY / sumXX;
    intercept = meanY - slope * meanX;
    const next = Float64Array.from(y, (value, i) => value - intercept - slope * x[i]!);
    let moved = 0;
    let size = 0;
    for (let i = 0; i < n; i++) {
      moved += (next[i]! - residuals[i]!) ** 2;
      size += residuals[i]! ** 2;
    }
    residuals = next;
    if (Math.sqrt(moved / Math.max(1e-20, size)) <= tolerance) {
      return { intercept, slope, scale, hasConverged: true, whyNone: null };
    }
  }
  return { intercept, slope, scale, hasConverged: false, whyNone: null };
}
