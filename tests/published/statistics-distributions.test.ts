import { describe, expect, it } from 'vitest';
import { chiSquare, inverseGaussian, normal, studentT } from '@/lib/statistics';
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
