import { selectKey } from '@/lib/statistics/select-key';
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

/** Slopes whose keys are `keyAt`: one pass counts those before each key and gathers those that share it. */
function slopesWithKeys(count: number, offset: number, ranks: Int32Array, out: Float64Array): void {
  const [a, b, c, d] = [keyAt[0]!, keyAt[1]!, keyAt[2]!, keyAt[3]!];
  let [beforeA, beforeB, beforeC, beforeD] = [offset, offset, offset, offset];
  let gathered = 0;
  for (let i = 0; i < count; i++) {
    const key = keys[i]!;
    beforeA += (key - a) >>> 31;
    beforeB += (key - b) >>> 31;
    beforeC += (key - c) >>> 31;
    beforeD += (key - d) >>> 31;
    if (key === a || key === b || key === c || key === d) {
      keys[gathered] = key;
      slopes[gathered++] = slopes[i]!;
    }
  }
  before.set([beforeA, beforeB, beforeC, beforeD]);
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
  if (!(width > 0)) {
    ranksOfAll(x, y, n, ranks, out);
    return;
  }
  const count = collect(x, y, n, line.slope - width / 2, keySpan / width);
  const offset = passed;
  if (ranks[0]! < offset || ranks[3]! >= offset + count) {
    ranksOfAll(x, y, n, ranks, out);
    return;
  }
  for (let i = 0; i < count; i++) partitioned[i] = keys[i]!;
  const lower = ranks[0]! - offset;
  const upper = ranks[3]! - offset;
  keyAt[0] = selectKey(partitioned, 0, count - 1, lower, 0, keySpan);
  keyAt[3] = selectKey(partitioned, lower, count - 1, upper, keyAt[0]!, keySpan);
  keyAt[1] = selectKey(partitioned, lower, upper, ranks[1]! - offset, keyAt[0]!, keyAt[3]! + 1);
  keyAt[2] = selectKey(
    partitioned,
    ranks[1]! - offset,
    upper,
    ranks[2]! - offset,
    keyAt[1]!,
    keyAt[3]! + 1,
  );
  slopesWithKeys(count, offset, ranks, out);
}
