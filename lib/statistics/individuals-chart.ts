import { requireSamples, type Samples } from '@/lib/statistics/require-samples';

export type IndividualsChart =
  | {
      readonly centre: number;
      /** Mean of the moving ranges of two. */
      readonly movingRange: number;
      readonly lower: number;
      readonly upper: number;
      /** Indices of values beyond a limit. */
      readonly beyond: readonly number[];
      readonly whyNone: null;
    }
  | {
      readonly centre: null;
      readonly movingRange: null;
      readonly lower: null;
      readonly upper: null;
      readonly beyond: readonly [];
      readonly whyNone: 'too few';
    };

/** Mean range of two normal values in standard deviations, 2 / sqrt(pi), rounded as tables print it. */
const meanRangeOfTwo = 1.128;

/**
 * Control chart of single values: limits at mean ∓ 3 (mean moving range / 1.128).
 * Source: Shewhart charts for individuals, NIST/SEMATECH e-Handbook section 6.3.2.2.
 *
 * Fewer than two values: `too few`.
 *
 * @example individualsChart([10, 12, 11]).movingRange -> 1.5
 */
export function individualsChart(values: Samples): IndividualsChart {
  requireSamples(values);
  const n = values.length;
  if (n < 2) {
    return {
      centre: null,
      movingRange: null,
      lower: null,
      upper: null,
      beyond: [],
      whyNone: 'too few',
    };
  }
  let sum = values[0]!;
  let ranges = 0;
  for (let i = 1; i < n; i++) {
    sum += values[i]!;
    ranges += Math.abs(values[i]! - values[i - 1]!);
  }
  const centre = sum / n;
  const movingRange = ranges / (n - 1);
  const half = (3 * movingRange) / meanRangeOfTwo;
  const beyond = Array.from(values).flatMap((value, i) =>
    Math.abs(value - centre) > half ? [i] : [],
  );
  return { centre, movingRange, lower: centre - half, upper: centre + half, beyond, whyNone: null };
}
