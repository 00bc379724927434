import { normal } from '@/lib/statistics/normal';
import { requireSamples, type Samples } from '@/lib/statistics/require-samples';
import {
  sortCountingInversions,
  type TieCorrections,
  tieCorrections,
} from '@/lib/statistics/sort-counting-inversions';

export type MannKendall =
  | {
      /** Rising pairs less falling pairs. */
      readonly s: number;
      readonly variance: number;
      readonly z: number;
      /** Two-sided, normal approximation. */
      readonly p: number;
      /** Kendall's tau-b; null when every value is the same, which leaves it undefined. */
      readonly tau: number | null;
      readonly whyNone: null;
    }
  | {
      readonly s: null;
      readonly variance: null;
      readonly z: null;
      readonly p: null;
      readonly tau: null;
      readonly whyNone: 'too few';
    };

let scratch = new Float64Array(64);

/**
 * Mann-Kendall test for a monotone trend in values given in order of time.
 *
 * S = sum over i < j of sign(y_j - y_i); variance = (n(n-1)(2n+5) - sum t(t-1)(2t+5)) / 18 over
 * groups of t equal values; z = (S - sign S) / sqrt(variance).
 * Source: Mann, Econometrica 13 (1945) 245-259; Kendall, Rank Correlation Methods (1975).
 *
 * Fewer than two values: `too few`. All equal: s 0, variance 0, z 0, p 1, tau null.
 *
 * @example mannKendall([5, 6, 11, 8, 10]).s -> 6
 */
export function mannKendall(y: Samples): MannKendall {
  requireSamples(y);
  const n = y.length;
  if (scratch.length < n) scratch = new Float64Array(2 * n);
  for (let i = 0; i < n; i++) scratch[i] = y[i]!;
  const falling = sortCountingInversions(scratch, n);
  return mannKendallFrom(n, falling, tieCorrections(scratch, n));
}

/** The test from the number of falling pairs and the ties, for callers that have sorted already. */
export function mannKendallFrom(n: number, falling: number, ties: TieCorrections): MannKendall {
  if (n < 2) {
    return { s: null, variance: null, z: null, p: null, tau: null, whyNone: 'too few' };
  }
  const pairs = (n * (n - 1)) / 2;
  const untied = pairs - ties.pairs;
  const s = untied - 2 * falling;
  const variance = (n * (n - 1) * (2 * n + 5) - ties.variance) / 18;
  const z = s === 0 ? 0 : (s - Math.sign(s)) / Math.sqrt(variance);
  return {
    s,
    variance,
    z,
    p: 2 * normal.cdf(-Math.abs(z)),
    tau: untied === 0 ? null : s / Math.sqrt(pairs * untied),
    whyNone: null,
  };
}
