import type { Samples } from '@/lib/statistics/require-samples';

/** Mean, counted from the first value, so that a large common part costs no digits. NaN of nothing. */
export function mean(values: Samples): number {
  const first = values[0]!;
  let beyond = 0;
  for (let i = 1; i < values.length; i++) beyond += values[i]! - first;
  return first + beyond / values.length;
}
