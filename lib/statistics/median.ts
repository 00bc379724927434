import { requireSamples, type Samples } from '@/lib/statistics/require-samples';
import { selectRank } from '@/lib/statistics/select-rank';

/** Median of the first `count` values, which are rearranged. */
export function medianInPlace(values: Float64Array, count: number): number {
  const middle = count >> 1;
  const upper = selectRank(values, 0, count - 1, middle);
  if (count % 2 === 1) return upper;
  let lower = values[0]!;
  for (let i = 1; i < middle; i++) if (values[i]! > lower) lower = values[i]!;
  return (lower + upper) / 2;
}

/**
 * Middle value, or the mean of the two middle values. Null when there are no values.
 *
 * @example median([5, 1, 4, 2]) -> 3
 */
export function median(values: Samples): number | null {
  requireSamples(values);
  return values.length === 0 ? null : medianInPlace(Float64Array.from(values), values.length);
}

/**
 * Median absolute deviation from the median, times 1.4826: an estimate of the standard deviation
 * that up to half the values cannot spoil. Null when there are no values, 0 when over half agree.
 * Source: Hampel, Journal of the American Statistical Association 69 (1974) 383-393.
 *
 * @example medianAbsoluteDeviation([1, 2, 3, 4, 100]) -> 1.4826
 */
export function medianAbsoluteDeviation(values: Samples): number | null {
  const centre = median(values);
  if (centre === null) return null;
  const deviations = Float64Array.from(values, (value) => Math.abs(value - centre));
  return 1.4826 * medianInPlace(deviations, deviations.length);
}
