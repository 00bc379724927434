import { describe, expect, it } from 'vitest';
import { chiSquare, inverseGaussian, normal, studentT } from '@/lib/statistics';
import { incompleteBeta } from '@/lib/statistics/incomplete-beta';
import { incompleteGamma } from '@/lib/statistics/incomplete-gamma';
import { expectWithin, referenceCases } from './figures';

interface QuantileCase {
  fn: 'qnorm' | 'pnorm' | 'qt' | 'pt' | 'qchisq';
  df?: number;
  p?: number[];
  x?: number[];
  value: number[];
}

interface InverseGaussianCase {
  mean: number;
  shape: number;
  x: number[];
  cdf: number[];
  sf: number[];
  pdf: number[];
  p: number[];
  quantile: number[];
}

const functions: Record<QuantileCase['fn'], (at: number, df: number) => number> = {
  qnorm: normal.quantile,
  pnorm: normal.cdf,
  qt: studentT.quantile,
  pt: studentT.cdf,
  qchisq: chiSquare.quantile,
};

describe('normal, t and chi-square against R 4.2.2 stats', () => {
  it.each(referenceCases<QuantileCase>('quantiles'))('$fn $df', ({ fn, df, p, x, value }) => {
    for (const [i, at] of (p ?? x)!.entries()) {
      expectWithin(functions[fn](at, df ?? 0), value[i]!, 1e-9, `${fn}(${at}, ${df})`);
    }
  });
});

describe('inverse Gaussian against R statmod 1.5.0', () => {
  it.each(referenceCases<InverseGaussianCase>('inverse_gaussian'))(
    'mean $mean, shape $shape',
    ({ mean, shape, x, cdf, sf, pdf, p, quantile }) => {
      for (const [i, at] of x.entries()) {
        expectWithin(inverseGaussian.cdf(at, mean, shape), cdf[i]!, 1e-9, `cdf ${at}`);
        expectWithin(inverseGaussian.upperTail(at, mean, shape), sf[i]!, 1e-9, `tail ${at}`);
        expectWithin(inverseGaussian.pdf(at, mean, shape), pdf[i]!, 1e-9, `pdf ${at}`);
      }
      for (const [i, at] of p.entries()) {
        expectWithin(inverseGaussian.quantile(at, mean, shape), quantile[i]!, 1e-9, `q ${at}`);
      }
    },
  );
});

// scipy 1.17.1 norm.cdf, in reference/check_oracles.py.
it('keeps far normal tails', () => {
  expectWithin(normal.cdf(-20), 2.7536241186061556e-89, 1e-12);
  expectWithin(normal.cdf(-37), 5.7255712225239266e-300, 1e-12);
  expect(normal.cdf(-50)).toBe(0);
});

// mpmath 1.3.0 at 40 figures, in reference/normal_tails.py. Arguments lie between the table's nodes.
describe('the normal keeps its 13 figures', () => {
  it.each([
    [0.00195, 0.4992220630462348],
    [0.998, 0.15913967932162162],
    [2.5019, 0.006176440546173363],
    [4.9981, 2.8948979747939543e-7],
    [7.998, 6.322818619710496e-16],
    [9.25, 1.1224633591327984e-20],
  ])('in both tails at %d', (x, tail) => {
    expectWithin(normal.upperTail(x), tail, 2e-13);
    expectWithin(normal.cdf(-x), tail, 2e-13);
    expectWithin(normal.cdf(x), 1 - tail, 1e-15);
    expectWithin(normal.upperTail(-x), 1 - tail, 1e-15);
  });

  it.each([
    [1e-300, -37.0470962993612],
    [1e-12, -7.034483825301132],
    [0.003, -2.7477813854449926],
    [0.3, -0.5244005127080408],
  ])('in the quantile of %d', (p, x) => {
    expectWithin(normal.quantile(p), x, 1e-13);
  });

  it('to the very ends', () => {
    expect(normal.quantile(0)).toBe(-Infinity);
    expect(normal.quantile(1)).toBe(Infinity);
    expect(normal.quantile(0.5)).toBe(0);
  });
});

describe('at and beyond the ends', () => {
  it('inverse Gaussian lives are above nought', () => {
    for (const x of [0, -1]) {
      expect(inverseGaussian.pdf(x, 2, 3)).toBe(0);
      expect(inverseGaussian.cdf(x, 2, 3)).toBe(0);
      expect(inverseGaussian.upperTail(x, 2, 3)).toBe(1);
    }
    expect(inverseGaussian.quantile(0, 2, 3)).toBe(0);
    expect(inverseGaussian.quantile(1, 2, 3)).toBe(Infinity);
    for (const f of Object.values(inverseGaussian))
      for (const at of [0, 0.5, 1]) {
        expect(() => f(at, 0, 3)).toThrow('mean must be above zero');
        expect(() => f(at, 2, 0)).toThrow('shape must be above zero');
      }
  });

  it('inverse Gaussian quantiles keep their figures in both tails', () => {
    const rare = inverseGaussian.quantile(1e-100, 2, 3);
    expectWithin(inverseGaussian.cdf(rare, 2, 3), 1e-100, 1e-9);
    const late = 2 ** -50;
    expectWithin(
      inverseGaussian.upperTail(inverseGaussian.quantile(1 - late, 2, 3), 2, 3),
      late,
      1e-9,
    );
  });

  it('t reaches the infinities, and its middle is nought', () => {
    expect(studentT.quantile(0, 3)).toBe(-Infinity);
    expect(studentT.quantile(1, 3)).toBe(Infinity);
    expect(studentT.quantile(0.5, 3)).toBe(0);
    expect(studentT.cdf(0, 3)).toBe(0.5);
    expect(studentT.cdf(1e200, 3)).toBe(1);
    expect(studentT.cdf(-1e200, 3)).toBe(0);
    expect(() => studentT.cdf(0, 0)).toThrow('degreesOfFreedom must be above zero');
  });

  // With two degrees of freedom chi-square is exponential.
  it('chi-square keeps its figures in both tails', () => {
    for (const x of [1e-9, 1, 60]) {
      expectWithin(chiSquare.upperTail(x, 2), Math.exp(-x / 2), 1e-13);
      expectWithin(chiSquare.cdf(x, 2), -Math.expm1(-x / 2), 1e-13);
    }
    expectWithin(chiSquare.quantile(1e-12, 2), -2 * Math.log1p(-1e-12), 1e-12);
    expectWithin(chiSquare.quantile(1 - 2 ** -50, 2), 100 * Math.LN2, 1e-12);
    expect(chiSquare.quantile(0, 2)).toBe(0);
    expect(chiSquare.quantile(1, 2)).toBe(Infinity);
    for (const f of Object.values(chiSquare))
      for (const at of [0, 0.5, 1])
        expect(() => f(at, 0)).toThrow('degreesOfFreedom must be above zero');
  });

  it('the incomplete gamma and beta functions are shares', () => {
    for (const x of [0, -1]) {
      expect(incompleteGamma(2, x)).toEqual({ lower: 0, upper: 1 });
      expect(incompleteBeta(x, 1 - x, 2, 3)).toBe(0);
      expect(incompleteBeta(1 - x, x, 2, 3)).toBe(1);
    }
    // Either may be too near nought for the other to tell from 1.
    expect(incompleteBeta(1, 1e-20, 2, 3)).toBe(1);
    expect(incompleteBeta(1e-20, 1, 1, 3)).toBeCloseTo(3e-20, 32);
    // Abramowitz and Stegun 6.6.4: the chance of a successes or more out of a + b - 1. The fraction is
    // turned over at (a + 1) / (a + b + 2).
    for (const [a, b] of [
      [2, 3],
      [5, 2],
      [1, 9],
      [12, 12],
    ] as const)
      for (const x of [0.05, 0.35, 0.45, 0.55, 0.65, 0.7, 0.95]) {
        const n = a + b - 1;
        let chance = 0;
        let choices = 1;
        for (let k = 0; k <= n; k++) {
          if (k >= a) chance += choices * x ** k * (1 - x) ** (n - k);
          choices *= (n - k) / (k + 1);
        }
        expectWithin(incompleteBeta(x, 1 - x, a, b), chance, 1e-12, `${x} ${a} ${b}`);
      }
    // Abramowitz and Stegun 6.5.13: the chance of at most 4 events, 1 + x + ... + x^4/4! times exp(-x).
    const poisson = [1, 1, 1 / 2, 1 / 6, 1 / 24];
    for (const x of [0.5, 5, 6, 30]) {
      const upper = Math.exp(-x) * poisson.reduce((sum, share, k) => sum + share * x ** k, 0);
      expectWithin(incompleteGamma(5, x).upper, upper, 1e-13);
      expect(incompleteGamma(5, x).lower).toBeCloseTo(1 - upper, 14);
    }
  });
});
