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
