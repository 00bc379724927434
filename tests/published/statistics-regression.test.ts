import { describe, expect, it } from 'vitest';
import {
  exponentialApproach,
  huberRegression,
  type Model,
  multipleRegression,
  nonlinearLeastSquares,
  ordinaryLeastSquares,
  studentT,
} from '@/lib/statistics';
import { expectWithin, figuresOf, referenceCases } from './figures';

interface RegressionCase {
  id: string;
  t_days: number[];
  y: number[];
  ols: { coef: number[]; se: number[]; p: number[]; sigma: number };
  huber: { coef: number[]; s: number };
}

interface RecoveryCase {
  id: string;
  t: number[];
  y: number[];
  true: { a: number; b: number; tau: number };
  fit: { a: number; b: number; tau: number; se: number[]; sigma: number };
}

describe.each(referenceCases<RegressionCase>('regression'))('$id', ({ t_days, y, ols, huber }) => {
  const t = t_days.map((day) => day / 365.25);

  it('least squares as R 4.2.2 lm', () => {
    const line = ordinaryLeastSquares(t, y);
    expectWithin(line.intercept, ols.coef[0]!, 1e-9);
    expectWithin(line.slope, ols.coef[1]!, 1e-9);
    expectWithin(line.interceptError, ols.se[0]!, 1e-9);
    expectWithin(line.slopeError, ols.se[1]!, 1e-9);
    expectWithin(line.residualError, ols.sigma, 1e-9);
    const p = 2 * studentT.cdf(-Math.abs(line.slope! / line.slopeError!), y.length - 2);
    expectWithin(p, ols.p[1]!, 1e-9);
  });

  it('Huber as R MASS 7.3.58.2 rlm', () => {
    const line = huberRegression(t, y);
    expectWithin(line.intercept, huber.coef[0]!, 1e-9);
    expectWithin(line.slope, huber.coef[1]!, 1e-9);
    expectWithin(line.scale, huber.s, 1e-9);
    expect(line.hasConverged).toBe(true);
  });
});

// R MASS 7.3.58.2 rlm at times 0, 1, 2, ...; on the first two it warns of 20 steps without convergence.
it.each([
  [[1, 4, 8, 9], 1.24921212718682, 2.74921212718682, 0.55339568725999, false],
  [[3, -2, 6, 4, -3, 3, 2], 2.20688751999614, -0.0504623860129431, 2.88330888477185, false],
  [
    [0.3, -1.1, 0.4, 0.9, -0.6, 7.5, -0.2, 0.8, -0.9, 0.1],
    0.109870529655723,
    0.0024892108046435,
    1.03227104329439,
    true,
  ],
])('Huber as R of %j', (y, intercept, slope, scale, hasConverged) => {
  const line = huberRegression(
    y.map((_, i) => i),
    y,
  );
  expectWithin(line.intercept, intercept, 1e-9);
  expectWithin(line.slope, slope, 1e-9);
  expectWithin(line.scale, scale, 1e-9);
  expect(line.hasConverged).toBe(hasConverged);
});

describe('NIST Statistical Reference Datasets', () => {
  interface Certified {
    b: number[];
    sd: number[];
    rss: number;
    rsd: number;
  }
  const linear = figuresOf<{
    Norris: { x: number[]; y: number[]; certified: Certified };
    Longley: { rows: number[][]; certified: Certified };
  }>('strd_linear.json');
  const nonlinear =
    figuresOf<Record<'Misra1a' | 'BoxBOD', { x: number[]; y: number[]; certified: Certified }>>(
      'strd_nonlinear.json',
    );

  it('Norris', () => {
    const { x, y, certified } = linear.Norris;
    const line = ordinaryLeastSquares(x, y);
    expectWithin(line.intercept, certified.b[0]!, 1e-10);
    expectWithin(line.slope, certified.b[1]!, 1e-10);
    expectWithin(line.interceptError, certified.sd[0]!, 1e-10);
    expectWithin(line.slopeError, certified.sd[1]!, 1e-10);
    expectWithin(line.residualError, certified.rsd, 1e-10);
  });

  it('Longley', () => {
    const { rows, certified } = linear.Longley;
    const columns = [1, 2, 3, 4, 5, 6].map((j) => rows.map((row) => row[j]!));
    const fit = multipleRegression(
      columns,
      rows.map((row) => row[0]!),
    );
    for (const [i, b] of certified.b.entries()) {
      expectWithin(fit.coefficients?.[i], b, 1e-9, `b${i}`);
      expectWithin(fit.errors?.[i], certified.sd[i]!, 1e-9, `sd${i}`);
    }
    expectWithin(fit.residualError, certified.rsd, 1e-10);
  });

  const saturation: Model = (x, [b1, b2], gradient) => {
    const decay = Math.exp(-b2! * x);
    gradient[0] = 1 - decay;
    gradient[1] = b1! * x * decay;
    return b1! * (1 - decay);
  };

  // NIST's starts (from memory).
  it.each([
    ['Misra1a', [500, 0.0001]],
    ['Misra1a', [250, 0.0005]],
    ['BoxBOD', [100, 0.75]],
  ] as const)('%s from %j', (name, start) => {
    const { x, y, certified } = nonlinear[name];
    const fit = nonlinearLeastSquares(saturation, x, y, start);
    expect(fit.hasConverged).toBe(true);
    expectWithin(fit.parameters[0], certified.b[0]!, 1e-9);
    expectWithin(fit.parameters[1], certified.b[1]!, 1e-9);
    expectWithin(fit.squares, certified.rss, 1e-9);
  });

  // The farther start of BoxBOD leads most descent methods to where the curve is flat.
  it('does not claim to have solved BoxBOD from [1,1] unless it has', () => {
    const { x, y, certified } = nonlinear.BoxBOD;
    const fit = nonlinearLeastSquares(saturation, x, y, [1, 1]);
    const isSolved = Math.abs(fit.squares / certified.rss - 1) < 1e-9;
    expect(fit.hasConverged).toBe(isSolved);
  });
});

describe('exponential approach against R 4.2.2 nls', () => {
  // nls stops at a relative offset of 1e-5, so that its figures hold to about 1e-5 standard errors.
  it.each(referenceCases<RecoveryCase>('nls_recovery'))('$id', ({ t, y, fit }) => {
    const curve = exponentialApproach(t, y);
    const within = (actual: number | null, expected: number, error: number) =>
      expect(Math.abs(actual! - expected)).toBeLessThanOrEqual(2e-5 * error);
    within(curve.end, fit.a, fit.se[0]!);
    within(curve.drop, fit.b, fit.se[1]!);
    within(curve.timeConstant, fit.tau, fit.se[2]!);
    expectWithin(curve.residualError, fit.sigma, 1e-9);
  });

  it('counts from any moment', () => {
    const t = [0, 1, 2, 4, 7, 11];
    const y = t.map((value, i) => 16 - 9 * Math.exp(-value / 3) + 0.05 * (-1) ** i);
    const curve = exponentialApproach(t, y);
    const later = exponentialApproach(
      t.map((value) => value + 6),
      y,
    );
    expectWithin(later.end, curve.end!, 1e-9);
    expectWithin(later.timeConstant, curve.timeConstant!, 1e-9);
    expectWithin(later.drop, curve.drop! * Math.exp(6 / curve.timeConstant!), 1e-8);
  });
});
