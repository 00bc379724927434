import { mean } from '@/lib/statistics/mean';
import { requireSamples } from '@/lib/statistics/require-samples';
import { backSubstitute, triangularise } from '@/lib/statistics/triangularise';

export type MultipleRegression =
  | {
      /** Intercept first, then one a column. */
      readonly coefficients: readonly number[];
      /** Standard errors, in the same order; null when nothing is left to judge them by. */
      readonly errors: readonly number[] | null;
      readonly residualError: number | null;
      readonly whyNone: null;
    }
  | {
      readonly coefficients: null;
      readonly errors: null;
      readonly residualError: null;
      readonly whyNone: 'too few' | 'columns depend on each other';
    };

const none = (whyNone: 'too few' | 'columns depend on each other'): MultipleRegression => ({
  coefficients: null,
  errors: null,
  residualError: null,
  whyNone,
});

/**
 * Least squares on several columns with an intercept: centred and scaled to unit length, then QR.
 * Source: Golub, Numerische Mathematik 7 (1965) 206-216.
 *
 * Fewer rows than coefficients: `too few`. A constant or repeated column: `columns depend on each
 * other`.
 *
 * @example multipleRegression([[0, 1, 0, 1], [0, 0, 1, 1]], [1, 3, 4, 6]).coefficients -> [1, 2, 3]
 */
export function multipleRegression(
  columns: readonly (readonly number[])[],
  y: readonly number[],
): MultipleRegression {
  requireSamples(y, ...columns);
  const n = y.length;
  const width = columns.length;
  if (n < width + 1) return none('too few');
  const means = columns.map(mean);
  const centred = columns.map((column, j) => column.map((value) => value - means[j]!));
  const lengths = centred.map((column) => Math.hypot(...column));
  if (lengths.some((length) => length === 0)) return none('columns depend on each other');
  const meanY = mean(y);
  const rows = y.map((_, i) => centred.map((column, j) => column[i]! / lengths[j]!));
  const { r, rotated, residualSquares, hasFullRank } = triangularise(
    rows,
    y.map((value) => value - meanY),
  );
  if (!hasFullRank) return none('columns depend on each other');
  const scaled = backSubstitute(r, rotated);
  const slopes = scaled.map((value, j) => value / lengths[j]!);
  const coefficients = [meanY - sum(slopes.map((slope, j) => slope * means[j]!)), ...slopes];
  const freedom = n - width - 1;
  if (freedom === 0) return { coefficients, errors: null, residualError: null, whyNone: null };
  const residualError = Math.sqrt(residualSquares / freedom);
  // Column k of the inverse of R; its rows give the errors of the slopes and of their combination.
  const inverse = columns.map((_, k) =>
    backSubstitute(
      r,
      columns.map((__, i) => (i === k ? 1 : 0)),
    ),
  );
  const errorOf = (weights: readonly number[]) =>
    Math.hypot(...inverse.map((column) => sum(column.map((value, j) => value * weights[j]!))));
  const errors = columns.map((_, j) =>
    errorOf(columns.map((__, i) => (i === j ? residualError / lengths[j]! : 0))),
  );
  const atOrigin = errorOf(means.map((value, j) => value / lengths[j]!));
  const interceptError = residualError * Math.hypot(1 / Math.sqrt(n), atOrigin);
  return { coefficients, errors: [interceptError, ...errors], residualError, whyNone: null };
}

const sum = (values: readonly number[]): number =>
  values.reduce((total, value) => total + value, 0);
