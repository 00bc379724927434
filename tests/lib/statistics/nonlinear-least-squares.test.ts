import { describe, expect, it } from 'vitest';
import { type Model, nonlinearLeastSquares } from '@/lib/statistics/nonlinear-least-squares';

describe('Levenberg and Marquardt step by step', () => {
  /** y = a + b x; its parameters are noted at each call with x = 0. */
  const asked: number[][] = [];
  const line: Model = (x, [a, b], gradient) => {
    if (x === 0) asked.push([a!, b!]);
    gradient[0] = 1;
    gradient[1] = x;
    return a! + b! * x;
  };

  it('is damped by each parameter’s own curvature, and less after a step that helps', () => {
    asked.length = 0;
    nonlinearLeastSquares(line, [0, 1], [1, 2], [0, 0]);
    // J'J = [2 1; 1 1] and J'y = [3 2]; its diagonal times 1 + damping, first 1e-3, then 1e-4.
    const solve = (damping: number, first: number, second: number) => {
      const [p, q] = [2 * (1 + damping), 1 + damping];
      return [(q * first - second) / (p * q - 1), (p * second - first) / (p * q - 1)] as const;
    };
    const [a, b] = solve(1e-3, 3, 2);
    const [moreA, moreB] = solve(1e-4, 3 - 2 * a - b, 2 - a - b);
    for (const [i, expected] of [
      [0, 0],
      [a, b],
      [a + moreA, b + moreB],
    ].entries())
      for (const [j, value] of expected.entries()) expect(asked[i]![j]).toBeCloseTo(value, 12);
  });

  it('has no error of the residuals without more values than parameters', () => {
    expect(nonlinearLeastSquares(line, [0, 1], [1, 2], [0, 0]).residualError).toBeNull();
    expect(nonlinearLeastSquares(line, [1, 2, 3], [1, 2, 5], [0, 0]).residualError).not.toBeNull();
  });

  it('stays where it began, unsolved, where the model does not feel a parameter', () => {
    const deaf: Model = (_, [a], gradient) => {
      gradient[0] = 1;
      return a!;
    };
    const fit = nonlinearLeastSquares(deaf, [0, 1], [1, 2], [4, 5]);
    expect(fit).toMatchObject({ parameters: [4, 5], hasConverged: false });
  });

  it('is solved at once where the start is the answer, nought included', () => {
    asked.length = 0;
    expect(nonlinearLeastSquares(line, [0, 1, 2], [0, 0, 0], [0, 0])).toMatchObject({
      parameters: [0, 0],
      squares: 0,
      hasConverged: true,
    });
    expect(asked).toHaveLength(2);
  });

  it('gives up after 500 steps that each help a little', () => {
    let calls = 0;
    const receding: Model = (_, __, gradient) => {
      gradient[0] = 1;
      return 1 / ++calls;
    };
    const fit = nonlinearLeastSquares(receding, [0], [0], [1]);
    expect(fit.hasConverged).toBe(false);
    expect(calls).toBe(1 + 500);
  });
});
