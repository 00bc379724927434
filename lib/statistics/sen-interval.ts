import { mannKendall } from '@/lib/statistics/mann-kendall';
import { normal } from '@/lib/statistics/normal';
import { requireConfidence, requireSamples, type Samples } from '@/lib/statistics/require-samples';

/**
 * Confidence limits of the Theil-Sen slope between ranks, for values in order of x: the (N - C)/2-th
 * and (N + C)/2 + 1-th of N sorted pair slopes by linear interpolation, C = z sqrt(variance of S).
 * `theilSen` rounds to whole ranks instead, which is coarse for short histories.
 * Source: Gilbert, Statistical Methods for Environmental Pollution Monitoring (1987), page 218.
 *
 * Null where no two x differ. Ranks beyond the ends give the extreme slopes.
 *
 * @example senInterval([1, 2, 3], [1, 2, 4], 0.9) -> { "lower": 1, "upper": 2 }
 */
export function senInterval(
  x: Samples,
  y: Samples,
  confidence: number,
): { readonly lower: number; readonly upper: number } | null {
  requireConfidence(confidence);
  requireSamples(x, y);
  const slopes: number[] = [];
  for (let i = 1; i < x.length; i++) {
    for (let j = 0; j < i; j++) {
      if (x[i] !== x[j]) slopes.push((y[i]! - y[j]!) / (x[i]! - x[j]!));
    }
  }
  if (slopes.length === 0) return null;
  slopes.sort((a, b) => a - b);
  const reach = -normal.quantile((1 - confidence) / 2) * Math.sqrt(mannKendall(y).variance ?? 0);
  const atRank = (rank: number) => {
    const place = Math.min(Math.max(rank - 1, 0), slopes.length - 1);
    const below = Math.floor(place);
    const above = Math.min(below + 1, slopes.length - 1);
    return slopes[below]! + (place - below) * (slopes[above]! - slopes[below]!);
  };
  return {
    lower: atRank((slopes.length - reach) / 2),
    upper: atRank((slopes.length + reach) / 2 + 1),
  };
}
