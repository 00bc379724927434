import { selectRank } from '@/lib/statistics/select-rank';

/** Whole-number keys span the window; slopes that share a key are told apart by their own values. */
const keySpan = 2 ** 20;
const wholeNumberLimit = 2 ** 30;

let slopes = new Float64Array(1024);
let keys = new Int32Array(1024);
let partitioned = new Int32Array(1024);
let sharing = new Float64Array(1024);
const keyAt = new Int32Array(4);
const before = new Int32Array(4);
let passed = 0;

/** Keys below `bound` first; returns where the others begin. Free of branches that mispredict. */
function partition(left: number, right: number, bound: number): number {
  let boundary = left;
  for (let i = left; i <= right; i++) {
    const key = partitioned[i]!;
    partitioned[i] = partitioned[boundary]!;
    partitioned[boundary] = key;
    boundary += (key - bound) >>> 31;
  }
  return boundary;
}

/**
 * Key of rank `rank` within partitioned[lower..upper], all in least <= key < bound; leaves it in
 * place as `selectRank` does. The pivot is interpolated, and every other time halves the interval, so
 * that no arrangement of the keys takes more than 40 rounds.
 */
function selectKey(
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
    const boundary = partition(left, right, pivot);
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
    const key = partitioned[i]!;
    let j = i - 1;
    while (j >= left && partitioned[j]! > key) {
      partitioned[j + 1] = partitioned[j]!;
      j--;
    }
    partitioned[j + 1] = key;
  }
  return partitioned[rank]!;
}

/** Slopes whose keys are `keyAt`: one pass counts those before each key and gathers those that share it. */
function slopesWithKeys(count: number, offset: number, ranks: Int32Array, out: Float64Array): void {
  const [a, b, c, d] = [keyAt[0]!, keyAt[1]!, keyAt[2]!, keyAt[3]!];
  before.fill(offset);
  let gathered = 0;
  for (let i = 0; i < count; i++) {
    const key = keys[i]!;
    before[0]! += (key - a) >>> 31;
    before[1]! += (key - b) >>> 31;
    before[2]! += (key - c) >>> 31;
    before[3]! += (key - d) >>> 31;
    if (key === a || key === b || key === c || key === d) {
      keys[gathered] = key;
      slopes[gathered++] = slopes[i]!;
    }
  }
  for (let k = 0; k < 4; k++) {
    let shared = 0;
    for (let i = 0; i < gathered; i++) if (keys[i] === keyAt[k]) sharing[shared++] = slopes[i]!;
    out[k] = selectRank(sharing, 0, shared - 1, ranks[k]! - before[k]!);
  }
}

/** Slopes at the four ranks, of all pairs: the sure way. */
function ranksOfAll(
  x: Float64Array,
  y: Float64Array,
  n: number,
  ranks: Int32Array,
  out: Float64Array,
): void {
  let count = 0;
  for (let i = 1; i < n; i++) {
    const xi = x[i]!;
    const yi = y[i]!;
    for (let j = 0; j < i; j++) {
      const run = xi - x[j]!;
      if (run !== 0) slopes[count++] = (yi - y[j]!) / run;
    }
  }
  let from = 0;
  for (let k = 0; k < 4; k++) {
    out[k] = selectRank(slopes, from, count - 1, ranks[k]!);
    from = ranks[k]!;
  }
}

/** Slopes in the window from `start`, and their keys; returns how many, and leaves in `passed` how many lie before it. */
function collect(
  x: Float64Array,
  y: Float64Array,
  n: number,
  start: number,
  perUnit: number,
): number {
  let count = 0;
  passed = 0;
  for (let i = 1; i < n; i++) {
    const xi = x[i]!;
    const yi = y[i]!;
    let under = 0;
    for (let j = 0; j < i; j++) {
      const run = xi - x[j]!;
      if (run === 0) continue;
      const slope = (yi - y[j]!) / run;
      const place = (slope - start) * perUnit;
      const key = Math.abs(place) < wholeNumberLimit ? place | 0 : place < 0 ? -1 : keySpan;
      slopes[count] = slope;
      keys[count] = key;
      const isUnder = key >>> 31;
      under += isUnder;
      count += ((key - keySpan) >>> 31) - isUnder;
    }
    passed += under;
  }
  return count;
}

const line = { slope: 0, error: 0 };

/** Least-squares slope and its standard error, to place the window; no more exact than that needs. */
function fitLine(x: Float64Array, y: Float64Array, n: number): void {
  const x0 = x[0]!;
  const y0 = y[0]!;
  let sumX = 0;
  let sumY = 0;
  let sumXX = 0;
  let sumXY = 0;
  let sumYY = 0;
  for (let i = 0; i < n; i++) {
    const dx = x[i]! - x0;
    const dy = y[i]! - y0;
    sumX += dx;
    sumY += dy;
    sumXX += dx * dx;
    sumXY += dx * dy;
    sumYY += dy * dy;
  }
  sumXX -= (sumX * sumX) / n;
  sumXY -= (sumX * sumY) / n;
  sumYY -= (sumY * sumY) / n;
  line.slope = sumXY / sumXX;
  line.error = Math.sqrt((sumYY - line.slope * sumXY) / ((n - 2) * sumXX));
}
/**
 * Slopes at four ascending ranks, counted from nought, among the slopes of all pairs with different
 * x, into `out`, without sorting.
 *
 * The least-squares slope and its error say where the four will lie; one pass keeps the slopes in
 * that window, as whole-number keys, and the ranks are selected among those. The window is a guess
 * about speed only: where it misses, all slopes are searched.
 */
export function pairSlopeRanks(
  x: Float64Array,
  y: Float64Array,
  n: number,
  ranks: Int32Array,
  errorsWide: number,
  out: Float64Array,
): void {
  const most = (n * (n - 1)) / 2 + 1;
  if (slopes.length < most) {
    slopes = new Float64Array(2 * most);
    keys = new Int32Array(2 * most);
    partitioned = new Int32Array(2 * most);
    sharing = new Float64Array(2 * most);
  }
  fitLine(x, y, n);
  const width = 2 * errorsWide * line.error;
  if (!(width > 0)) return ranksOfAll(x, y, n, ranks, out);
  const count = collect(x, y, n, line.slope - width / 2, keySpan / width);
  const offset = passed;
  if (ranks[0]! < offset || ranks[3]! >= offset + count) return ranksOfAll(x, y, n, ranks, out);
  for (let i = 0; i < count; i++) partitioned[i] = keys[i]!;
  const lower = ranks[0]! - offset;
  const upper = ranks[3]! - offset;
  keyAt[0] = selectKey(0, count - 1, lower, 0, keySpan);
  keyAt[3] = selectKey(lower, count - 1, upper, keyAt[0]!, keySpan);
  keyAt[1] = selectKey(lower, upper, ranks[1]! - offset, keyAt[0]!, keyAt[3]! + 1);
  keyAt[2] = selectKey(ranks[1]! - offset, upper, ranks[2]! - offset, keyAt[1]!, keyAt[3]! + 1);
  slopesWithKeys(count, offset, ranks, out);
}
