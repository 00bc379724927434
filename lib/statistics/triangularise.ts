/** Upper triangle R of a matrix of rows, Q'y beside it, and the squares that no combination explains. */
export interface Triangle {
  readonly r: readonly Float64Array[];
  readonly rotated: Float64Array;
  readonly residualSquares: number;
  /** No column is, to rounding, a combination of those before it. */
  readonly hasFullRank: boolean;
}

/**
 * QR factorisation by Householder reflections, applied to a right-hand side as well: least squares
 * without squaring the condition of the problem. As many rows as columns at least.
 * Source: Golub, Numerische Mathematik 7 (1965) 206-216.
 *
 * @example triangularise([[3], [4]], [1, 2]).residualSquares -> 0.16000000000000003
 */
export function triangularise(
  rows: readonly (readonly number[])[],
  y: readonly number[],
): Triangle {
  const width = rows[0]!.length;
  const columns = Array.from({ length: width }, (_, j) =>
    Float64Array.from(rows, (row) => row[j]!),
  );
  const right = Float64Array.from(y);
  const r = Array.from({ length: width }, () => new Float64Array(width));
  let hasFullRank = true;
  for (let k = 0; k < width; k++) {
    const column = columns[k]!;
    const size = length(column, k);
    const whole = Math.hypot(...r.map((row) => row[k]!), size);
    if (!(size > 1e-13 * whole)) {
      hasFullRank = false;
      continue;
    }
    const diagonal = column[k]! > 0 ? -size : size;
    column[k]! -= diagonal;
    const half = -diagonal * column[k]!;
    for (const target of [...columns.slice(k + 1), right]) reflect(target, column, half, k);
    r[k]![k] = diagonal;
    for (let j = k + 1; j < width; j++) r[k]![j] = columns[j]![k]!;
  }
  return {
    r,
    rotated: right.slice(0, width),
    residualSquares: length(right, width) ** 2,
    hasFullRank,
  };
}

function length(vector: Float64Array, from: number): number {
  let sum = 0;
  for (let i = from; i < vector.length; i++) sum += vector[i]! * vector[i]!;
  return Math.sqrt(sum);
}

function reflect(target: Float64Array, mirror: Float64Array, half: number, from: number): void {
  let product = 0;
  for (let i = from; i < target.length; i++) product += target[i]! * mirror[i]!;
  const factor = product / half;
  for (let i = from; i < target.length; i++) target[i]! -= factor * mirror[i]!;
}

/** Solves R x = b upwards from the last row. */
export function backSubstitute(r: readonly Float64Array[], b: ArrayLike<number>): number[] {
  const x = Array.from(b);
  for (let i = r.length - 1; i >= 0; i--) {
    for (let j = i + 1; j < r.length; j++) x[i]! -= r[i]![j]! * x[j]!;
    x[i]! /= r[i]![i]!;
  }
  return x;
}
