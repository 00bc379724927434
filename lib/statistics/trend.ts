import { type MannKendall, mannKendallFrom } from '@/lib/statistics/mann-kendall';
import { requireConfidence, requireSamples, type Samples } from '@/lib/statistics/require-samples';
import { sortCountingInversions, tieCorrections } from '@/lib/statistics/sort-counting-inversions';
import { type TheilSen, theilSenFrom } from '@/lib/statistics/theil-sen';

let sorted = new Float64Array(64);

/**
 * `theilSen(x, y, confidence)` and `mannKendall(y)` of values in order of x, from one sort of y.
 *
 * @example trend([1, 2, 3, 4, 5], [1.26, 1.27, 1.12, 1.16, 1.03], 0.9).test.s -> -6
 */
export function trend(
  x: Samples,
  y: Samples,
  confidence: number,
): { readonly line: TheilSen; readonly test: MannKendall } {
  requireConfidence(confidence);
  requireSamples(x, y);
  const n = y.length;
  if (sorted.length < n) sorted = new Float64Array(2 * n);
  for (let i = 0; i < n; i++) sorted[i] = y[i]!;
  const falling = sortCountingInversions(sorted, n);
  const ties = tieCorrections(sorted, n);
  return {
    line: theilSenFrom(x, y, confidence, sorted, ties),
    test: mannKendallFrom(n, falling, ties),
  };
}
