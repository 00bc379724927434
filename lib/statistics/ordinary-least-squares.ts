import { mean } from '@/lib/statistics/mean';
import { requireSamples, type Samples } from '@/lib/statistics/require-samples';

export type StraightLine =
  | {
      readonly intercept: number;
      readonly slope: number;
      /** Standard errors; null with two points, which leave nothing to judge them by. */
      readonly interceptError: number | null;
      readonly slopeError: number | null;
      /** Standard deviation about the line, on n - 2 degrees of freedom. */
      readonly residualError: number | null;
      readonly whyNone: null;
    }
  | {
      readonly intercept: null;
      readonly slope: null;
      readonly interceptError: null;
      readonly slopeError: null;
      readonly residualError: null;
      readonly whyNone: 'too few' | 'no spread in x';
    };

const none = (whyNone: 'too few' | 'no spread in x'): StraightLine => ({
  intercept: null,
  slope: null,
  interceptError: null,
  slopeError: null,
  residualError: null,
  whyNone,
});

/**
 * Straight line by ordinary least squares, on centred values: slope = Sxy / Sxx in units of y a unit
 * of x. Source: Draper and Smith, Applied Regression Analysis (1998), chapter 1.
 *
 * Fewer than two points: `too few`. All at one x: `no spread in x`.
 *
 * @example ordinaryLeastSquares([1, 2, 3, 4, 5, 6, 7], [1, 2, 3, 4, 5, 16, 7]).slope -> 1.7142857142857142
 */
export function ordinaryLeastSquares(x: Samples, y: Samples): StraightLine {
  requireSamples(x, y);
  const n = x.length;
  if (n < 2) return none('too few');
  const meanX = mean(x);
  const meanY = mean(y);
  let sumXX = 0;
  let sumXY = 0;
  for (let i = 0; i < n; i++) {
    const dx = x[i]! - meanX;
    sumXX += dx * dx;
    sumXY += dx * (y[i]! - meanY);
  }
  if (sumXX === 0) return none('no spread in x');
  const slope = sumXY / sumXX;
  const intercept = meanY - slope * meanX;
  if (n === 2) {
    return {
      intercept,
      slope,
      interceptError: null,
      slopeError: null,
      residualError: null,
      whyNone: null,
    };
  }
  let squares = 0;
  for (let i = 0; i < n; i++) {
    const residual = y[i]! - meanY - slope * (x[i]! - meanX);
    squares += residual * residual;
  }
  const residualError = Math.sqrt(squares / (n - 2));
  return {
    intercept,
    slope,
    interceptError: residualError * Math.sqrt(1 / n + (meanX * meanX) / sumXX),
    slopeError: residualError / Math.sqrt(sumXX),
    residualError,
    whyNone: null,
  };
}
