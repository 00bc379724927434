/**
 * Rearranges values[lower..upper] so that the element of rank `rank` stands at its place, nothing
 * greater before it and nothing less after it. Expected linear time, no allocation; equal values
 * and sorted input cost no more.
 * Source: Hoare's FIND, Communications of the ACM 4 (1961) 321, with a median-of-three pivot.
 *
 * @example selectRank(Float64Array.of(5, 1, 4, 2), 0, 3, 2) -> 4
 */
export function selectRank(
  values: Float64Array,
  lower: number,
  upper: number,
  rank: number,
): number {
  let left = lower;
  let right = upper;
  while (right - left > 10) {
    const middle = (left + right) >> 1;
    const a = values[left]!;
    const b = values[middle]!;
    const c = values[right]!;
    const pivot = Math.max(Math.min(a, b), Math.min(Math.max(a, b), c));
    let i = left;
    let j = right;
    while (i <= j) {
      while (values[i]! < pivot) i++;
      while (values[j]! > pivot) j--;
      if (i <= j) {
        const held = values[i]!;
        values[i] = values[j]!;
        values[j] = held;
        i++;
        j--;
      }
    }
    if (rank <= j) right = j;
    else if (rank >= i) left = i;
    else return values[rank]!;
  }
  for (let i = left + 1; i <= right; i++) {
    const held = values[i]!;
    let j = i - 1;
    while (j >= left && values[j]! > held) {
      values[j + 1] = values[j]!;
      j--;
    }
    values[j + 1] = held;
  }
  return values[rank]!;
}
