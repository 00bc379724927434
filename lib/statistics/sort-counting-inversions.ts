/** Below this length insertion is faster than merging. */
const insertionLength = 48;

function insertionSort(values: Float64Array, start: number, end: number): number {
  let inversions = 0;
  for (let i = start + 1; i < end; i++) {
    const held = values[i]!;
    let j = i - 1;
    while (j >= start && values[j]! > held) {
      values[j + 1] = values[j]!;
      j--;
    }
    values[j + 1] = held;
    inversions += i - 1 - j;
  }
  return inversions;
}

/**
 * Sorts values[0..count) ascending and returns the number of pairs that stood in falling order,
 * equal pairs not counted. Insertion for short runs, merging above.
 * Source: Knight, Journal of the American Statistical Association 61 (1966) 436-439.
 *
 * @example sortCountingInversions(Float64Array.of(3, 1, 2, 2), 4) -> 3
 */
export function sortCountingInversions(values: Float64Array, count: number): number {
  if (count <= insertionLength) return insertionSort(values, 0, count);
  let inversions = 0;
  for (let start = 0; start < count; start += insertionLength) {
    inversions += insertionSort(values, start, Math.min(start + insertionLength, count));
  }
  const merged = new Float64Array(count);
  for (let width = insertionLength; width < count; width *= 2) {
    for (let start = 0; start < count; start += 2 * width) {
      const middle = Math.min(start + width, count);
      const end = Math.min(start + 2 * width, count);
      let i = start;
      let j = middle;
      for (let k = start; k < end; k++) {
        if (j >= end || (i < middle && values[i]! <= values[j]!)) {
          merged[k] = values[i++]!;
        } else {
          merged[k] = values[j++]!;
          inversions += middle - i;
        }
      }
    }
    values.set(merged);
  }
  return inversions;
}

/** What groups of t equal values take off Kendall's S: sums of t(t-1)/2 and of t(t-1)(2t+5). */
export interface TieCorrections {
  readonly pairs: number;
  readonly variance: number;
}

/** @example tieCorrections(Float64Array.of(1, 2, 2, 2), 4) -> { "pairs": 3, "variance": 66 } */
export function tieCorrections(sorted: Float64Array, count: number): TieCorrections {
  let pairs = 0;
  let variance = 0;
  let run = 1;
  for (let i = 1; i <= count; i++) {
    if (i < count && sorted[i] === sorted[i - 1]) {
      run++;
    } else if (run > 1) {
      pairs += (run * (run - 1)) / 2;
      variance += run * (run - 1) * (2 * run + 5);
      run = 1;
    }
  }
  return { pairs, variance };
}
