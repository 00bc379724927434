/**
 * Solution of a square system by elimination with partial pivoting; null when a pivot vanishes.
 * The arguments are left as they are.
 *
 * @example solveLinear([[2, 1], [1, 3]], [3, 5]) -> [0.8, 1.4]
 */
export function solveLinear(
  matrix: readonly ArrayLike<number>[],
  right: ArrayLike<number>,
): number[] | null {
  const n = right.length;
  const rows = matrix.map((row) => Float64Array.from(row));
  const x = Array.from(right);
  for (let k = 0; k < n; k++) {
    let pivot = k;
    for (let i = k + 1; i < n; i++) {
      if (Math.abs(rows[i]![k]!) > Math.abs(rows[pivot]![k]!)) pivot = i;
    }
    [rows[k], rows[pivot]] = [rows[pivot]!, rows[k]!];
    [x[k], x[pivot]] = [x[pivot]!, x[k]!];
    const row = rows[k]!;
    if (row[k] === 0) return null;
    for (let i = k + 1; i < n; i++) {
      const lower = rows[i]!;
      const factor = lower[k]! / row[k]!;
      if (factor === 0) continue;
      for (let j = k + 1; j < n; j++) lower[j]! -= factor * row[j]!;
      x[i]! -= factor * x[k]!;
    }
  }
  for (let k = n - 1; k >= 0; k--) {
    const row = rows[k]!;
    for (let j = k + 1; j < n; j++) x[k]! -= row[j]! * x[j]!;
    x[k]! /= row[k]!;
  }
  return x;
}
