import { type Model, nonlinearLeastSquares } from '@/lib/statistics/nonlinear-least-squares';
import { ordinaryLeastSquares } from '@/lib/statistics/ordinary-least-squares';
import { requireSamples, type Samples } from '@/lib/statistics/require-samples';

export type ExponentialApproach =
  | {
      /** Where y settles. */
      readonly end: number;
      /** How far below `end` it stands at t = 0; negative when it comes down from above. */
      readonly drop: number;
      /** Time to cover 63% of the way, in the unit of t. */
      readonly timeConstant: number;
      readonly residualError: number | null;
      readonly whyNone: null;
    }
  | {
      readonly end: null;
      readonly drop: null;
      readonly timeConstant: null;
      readonly residualError: null;
      readonly whyNone: 'too few' | 'no change' | 'no bend';
    };

const none = (whyNone: 'too few' | 'no change' | 'no bend'): ExponentialApproach => ({
  end: null,
  drop: null,
  timeConstant: null,
  residualError: null,
  whyNone,
});

const gridPoints = 40;
/** Beyond twenty times the span of t the curve cannot be told from a straight line. */
const mostSpans = 20;

const approach: Model = (t, [end, drop, timeConstant], gradient) => {
  const decay = Math.exp(-t / timeConstant!);
  gradient[0] = 1;
  gradient[1] = -decay;
  gradient[2] = (-drop! * decay * t) / (timeConstant! * timeConstant!);
  return end! - drop! * decay;
};

/**
 * Least squares fit of y = end - drop exp(-t / timeConstant).
 * For each time constant of a logarithmic grid the other two are linear; the best starts a
 * Levenberg-Marquardt search. Source: Golub and Pereyra, SIAM Journal on Numerical Analysis 10 (1973)
 * 413-432 (separation); Marquardt (1963).
 *
 * Fewer than four values, or than three different t: `too few`. All y equal: `no change`. No time
 * constant between a thousandth of and twenty times the span of t: `no bend`.
 *
 * @example exponentialApproach([0, 1, 2, 3], [0, 8, 12, 14]).end -> 16
 */
export function exponentialApproach(t: Samples, y: Samples): ExponentialApproach {
  requireSamples(t, y);
  const times = new Set(Array.from(t));
  if (t.length < 4 || times.size < 3) return none('too few');
  if (Array.from(y).every((value) => value === y[0])) return none('no change');
  const origin = Math.min(...times);
  const span = Math.max(...times) - origin;
  // Counting from the first value keeps exp(-t / timeConstant) in range; drop is moved to t = 0 below.
  const since = Float64Array.from(t, (value) => value - origin);
  const start = bestOnGrid(since, y, span);
  const { parameters, residualError } = nonlinearLeastSquares(approach, since, y, start);
  const [end, drop, timeConstant] = parameters as [number, number, number];
  if (!(timeConstant > span / 1000 && timeConstant < mostSpans * span)) return none('no bend');
  return {
    end,
    drop: drop * Math.exp(origin / timeConstant),
    timeConstant,
    residualError,
    whyNone: null,
  };
}

function bestOnGrid(since: Float64Array, y: Samples, span: number): number[] {
  let best: number[] = [];
  let least = Infinity;
  for (let k = 0; k <= gridPoints; k++) {
    const timeConstant = (span / 100) * (100 * mostSpans) ** (k / gridPoints);
    const decay = since.map((value) => Math.exp(-value / timeConstant));
    const line = ordinaryLeastSquares(decay, y);
    if (line.residualError! < least) {
      least = line.residualError!;
      best = [line.intercept!, -line.slope!, timeConstant];
    }
  }
  return best;
}
