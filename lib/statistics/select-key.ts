/** Keys below `bound` first; returns where the others begin. Free of branches that mispredict. */
function partition(keys: Int32Array, left: number, right: number, bound: number): number {
  let boundary = left;
  for (let i = left; i <= right; i++) {
    const key = keys[i]!;
    keys[i] = keys[boundary]!;
    keys[boundary] = key;
    boundary += (key - bound) >>> 31;
  }
  return boundary;
}

/**
 * Key of rank `rank` within keys[lower..upper], all in least <= key < bound; leaves it in
 * place as `selectRank` does. The pivot is interpolated, and every other time halves the interval, so
 * that no arrangement of the keys takes more rounds than twice the bits of the interval.
 *
 * @example selectKey(Int32Array.of(5, 1, 4, 2), 0, 3, 2, 0, 8) -> 4
 */
export function selectKey(
  keys: Int32Array,
  lower: number,
  upper: number,
  rank: number,
  least: number,
  bound: number,
): number {
  let left = lower;
  let right = upper;
  let low = least;
  let high = bound;
  let halves = false;
  while (right - left > 10) {
    if (high - low === 1) return low;
    const share = halves ? 0.5 : (rank - left + 0.5) / (right - left + 1);
    const pivot = low + 1 + ((share * (high - low - 1)) | 0);
    const boundary = partition(keys, left, right, pivot);
    if (rank < boundary) {
      right = boundary - 1;
      high = pivot;
    } else {
      left = boundary;
      low = pivot;
    }
    halves = !halves;
  }
  for (let i = left + 1; i <= right; i++) {
    const key = keys[i]!;
    let j = i - 1;
    while (j >= left && keys[j]! > key) {
      keys[j + 1] = keys[j]!;
      j--;
    }
    keys[j + 1] = key;
  }
  return keys[rank]!;
}
