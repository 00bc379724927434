import { requirePositive, requireSamples, type Samples } from '@/lib/statistics/require-samples';

export interface EwmaDesignOnData {
  /** Weight of the newest value, 0 to 1. */
  readonly lambda: number;
  readonly target: number;
  /** Standard deviation of one value. */
  readonly sigma: number;
  /** Limits at so many standard deviations of the settled average; 3 unless given. */
  readonly limit?: number;
}

export interface EwmaChart {
  readonly averages: readonly number[];
  /** Limits of the settled average. */
  readonly lower: number;
  readonly upper: number;
  /** Index of the first average beyond a limit; null without one. */
  readonly signalAt: number | null;
}

/**
 * Exponentially weighted moving average with its control limits:
 * z = lambda y + (1 - lambda) z from the target; limits target ∓ L sigma sqrt(lambda / (2 - lambda)).
 * Source: Roberts, Technometrics 1 (1959) 239-250.
 *
 * No values: no averages and no signal, the limits stand.
 *
 * @example ewma([52], { lambda: 0.3, target: 50, sigma: 2 }).averages -> [50.6]
 */
export function ewma(values: Samples, design: EwmaDesignOnData): EwmaChart {
  const { lambda, target, sigma, limit = 3 } = design;
  requireSamples(values);
  requirePositive({ lambda, sigma, limit });
  const half = limit * sigma * Math.sqrt(lambda / (2 - lambda));
  let average = target;
  const averages = Array.from(values, (value) => {
    average += lambda * (value - average);
    return average;
  });
  const first = averages.findIndex((value) => Math.abs(value - target) > half);
  return {
    averages,
    lower: target - half,
    upper: target + half,
    signalAt: first < 0 ? null : first,
  };
}
