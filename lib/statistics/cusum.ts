import { requirePositive, requireSamples, type Samples } from '@/lib/statistics/require-samples';

export interface CusumDesignOnData {
  readonly target: number;
  /** Allowance k, in the unit of the values. */
  readonly reference: number;
  /** Decision interval h, in the unit of the values. */
  readonly interval: number;
  /** Where both sums start; 0 unless given. */
  readonly headStart?: number;
}

export interface CusumChart {
  readonly high: readonly number[];
  readonly low: readonly number[];
  /** Index of the first sum beyond the interval; null without one. */
  readonly highSignalAt: number | null;
  readonly lowSignalAt: number | null;
}

/**
 * Tabular cumulative sums: high = max(0, high + y - target - k), low = max(0, low + target - k - y).
 * Source: Page, Biometrika 41 (1954) 100-115; head start by Lucas and Crosier (1982).
 *
 * No values: no sums and no signal.
 *
 * @example cusum([1, 2], { target: 0, reference: 0.5, interval: 1.5 }).highSignalAt -> 1
 */
export function cusum(values: Samples, design: CusumDesignOnData): CusumChart {
  const { target, reference, interval, headStart = 0 } = design;
  requireSamples(values);
  requirePositive({ interval });
  const sums = (sign: number) => {
    let sum = headStart;
    return Array.from(values, (value) => {
      sum = Math.max(0, sum + sign * (value - target) - reference);
      return sum;
    });
  };
  const firstBeyond = (series: readonly number[]) => {
    const first = series.findIndex((sum) => sum > interval);
    return first < 0 ? null : first;
  };
  const high = sums(1);
  const low = sums(-1);
  return { high, low, highSignalAt: firstBeyond(high), lowSignalAt: firstBeyond(low) };
}
