import { requireSamples, type Samples } from '@/lib/statistics/require-samples';

export type ChangePoint =
  | {
      /** Number of values before the change. */
      readonly index: number;
      /** Largest |U|. */
      readonly statistic: number;
      /** Two-sided, approximate; above 0.5 it overstates, and it is cut at 1. */
      readonly p: number;
      readonly whyNone: null;
    }
  | {
      readonly index: null;
      readonly statistic: null;
      readonly p: null;
      readonly whyNone: 'too few' | 'all equal';
    };

/**
 * Pettitt's test for one change of level at an unknown time, by ranks: U(k) = 2 (ranks of the first k)
 * - k (n + 1), mid-ranks for ties; p = 2 exp(-6 U² / (n³ + n²)).
 * Source: Pettitt, Applied Statistics 28 (1979) 126-135.
 *
 * Fewer than two values: `too few`. All equal: `all equal`. The earliest of equal maxima is given.
 *
 * @example pettitt([1, 2, 1, 8, 9, 8]).index -> 3
 */
export function pettitt(values: Samples): ChangePoint {
  requireSamples(values);
  const n = values.length;
  if (n < 2) return { index: null, statistic: null, p: null, whyNone: 'too few' };
  const ranks = midRanks(values);
  let sum = 0;
  let statistic = 0;
  let index = 0;
  for (let k = 1; k < n; k++) {
    sum += ranks[k - 1]!;
    const u = Math.abs(2 * sum - k * (n + 1));
    if (u > statistic) {
      statistic = u;
      index = k;
    }
  }
  if (statistic === 0) return { index: null, statistic: null, p: null, whyNone: 'all equal' };
  const p = Math.min(1, 2 * Math.exp((-6 * statistic ** 2) / (n ** 3 + n ** 2)));
  return { index, statistic, p, whyNone: null };
}

function midRanks(values: Samples): Float64Array {
  const order = Array.from(values, (_, i) => i).sort((a, b) => values[a]! - values[b]!);
  const ranks = new Float64Array(values.length);
  for (let start = 0; start < order.length; ) {
    let end = start + 1;
    while (end < order.length && values[order[end]!] === values[order[start]!]) end++;
    for (let i = start; i < end; i++) ranks[order[i]!] = (start + end + 1) / 2;
    start = end;
  }
  return ranks;
}
