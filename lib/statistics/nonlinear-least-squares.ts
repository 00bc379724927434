import { requireSamples, type Samples } from '@/lib/statistics/require-samples';
import { solveLinear } from '@/lib/statistics/solve-linear';

/** Value of a model at x, and its derivatives by each parameter, written into `gradient`. */
export type Model = (x: number, parameters: readonly number[], gradient: number[]) => number;

export interface NonlinearFit {
  readonly parameters: readonly number[];
  readonly squares: number;
  /** Standard deviation about the curve; null without more values than parameters. */
  readonly residualError: number | null;
  readonly hasConverged: boolean;
}

const mostRounds = 500;

/**
 * Parameters that make the sum of squared residuals least, by Levenberg's and Marquardt's method:
 * Gauss-Newton steps, damped in proportion to each parameter's own curvature.
 * Source: Marquardt, SIAM Journal 11 (1963) 431-441.
 *
 * `hasConverged` is false when no step helps before the steps are small against the parameters, and
 * after 500 steps.
 *
 * @example nonlinearLeastSquares((x, [a], g) => { g[0] = x; return a * x; }, [1, 2], [2, 4], [1]).parameters -> [2]
 */
export function nonlinearLeastSquares(
  model: Model,
  x: Samples,
  y: Samples,
  start: readonly number[],
): NonlinearFit {
  requireSamples(x, y);
  let parameters = [...start];
  let at = linearise(model, x, y, parameters);
  let damping = 1e-3;
  let hasConverged = false;
  for (let round = 0; round < mostRounds && !hasConverged; round++) {
    const damped = at.curvature.map((row, i) =>
      row.map((value, j) => (i === j ? value * (1 + damping) : value)),
    );
    const step = solveLinear(damped, at.descent);
    const next = step && parameters.map((value, i) => value + step[i]!);
    const there = next && linearise(model, x, y, next);
    const isSmall =
      step?.every((value, i) => Math.abs(value) <= 1e-12 * Math.abs(parameters[i]!)) ?? false;
    // Near the end rounding hides what a step gains, so that a hair's loss is no reason to refuse it.
    if (next && there && there.squares <= at.squares * (1 + 1e-13)) {
      parameters = next;
      at = there;
      damping = Math.max(damping / 10, 1e-15);
    } else {
      if (damping > 1e16) break;
      damping *= 7;
    }
    hasConverged = isSmall;
  }
  const freedom = x.length - start.length;
  return {
    parameters,
    squares: at.squares,
    residualError: freedom > 0 ? Math.sqrt(at.squares / freedom) : null,
    hasConverged,
  };
}

function linearise(model: Model, x: Samples, y: Samples, parameters: readonly number[]) {
  const width = parameters.length;
  const gradient = new Array<number>(width).fill(0);
  const curvature = Array.from({ length: width }, () => new Array<number>(width).fill(0));
  const descent = new Array<number>(width).fill(0);
  let squares = 0;
  for (let i = 0; i < x.length; i++) {
    const residual = y[i]! - model(x[i]!, parameters, gradient);
    squares += residual * residual;
    for (let j = 0; j < width; j++) {
      descent[j]! += gradient[j]! * residual;
      for (let k = 0; k < width; k++) curvature[j]![k]! += gradient[j]! * gradient[k]!;
    }
  }
  return { squares, curvature, descent };
}
