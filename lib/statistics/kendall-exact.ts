/**
 * Exact chance that Kendall's S of n values in random order, no two equal, is `s` or more: one-sided,
 * for histories too short for the normal approximation. Counts the orders by their inversions.
 * Source: Kendall, Rank Correlation Methods (1975), section 5.2.
 *
 * No values or one: S can only be 0.
 *
 * @example kendallExactUpperTail(6, 5) -> 0.11666666666666667
 */
export function kendallExactUpperTail(s: number, n: number): number {
  const pairs = (n * (n - 1)) / 2;
  let share = [1];
  for (let size = 2; size <= n; size++) {
    const next = new Array<number>(share.length + size - 1).fill(0);
    for (const [inversions, chance] of share.entries()) {
      for (let more = 0; more < size; more++) next[inversions + more]! += chance / size;
    }
    share = next;
  }
  const mostInversions = Math.floor((pairs - s) / 2);
  return Math.min(
    1,
    share.slice(0, Math.max(0, mostInversions + 1)).reduce((a, b) => a + b, 0),
  );
}
