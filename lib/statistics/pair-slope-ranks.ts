import { selectRank } from '@/lib/statistics/select-rank';

/** Equal parts of the window; about one slope falls in each for a history of twenty. */
const parts = 64;
const wholeNumberLimit = 2 ** 30;

let slopes = new Float64Array(1024);
let partOf = new Int32Array(1024);
let sharing = new Float64Array(1024);
/** Slopes before the window. */
let passed = 0;
const counts = new Int32Array(parts);
const partAt = new Int32Array(4);
const before = new Int32Array(4);

/** Slopes at four ranks, from the first `count` slopes and the parts of the window they lie in. */
function ranksWithin(count: number, ranks: Int32Array, out: Float64Array): void {
  counts.fill(0);
  for (let i = 0; i < count; i++) counts[partOf[i]!]!++;
  let reached = passed;
  let found = 0;
  for (let part = 0; found < 4; part++) {
    const next = reached + counts[part]!;
    for (; found < 4 && ranks[found]! < next; found++) {
      partAt[found] = part;
      before[found] = reached;
    }
    reached = next;
  }
  const [a, b, c, d] = [partAt[0]!, partAt[1]!, partAt[2]!, partAt[3]!];
  let gathered = 0;
  for (let i = 0; i < count; i++) {
    const part = partOf[i]!;
    if (part === a || part === b || part === c || part === d) {
      partOf[gathered] = part;
      slopes[gathered++] = slopes[i]!;
    }
  }
  for (let k = 0; k < 4; k++) {
    let shared = 0;
    for (let i = 0; i < gathered; i++) {
      if (partOf[i] === partAt[k]) sharing[shared++] = slopes[i]!;
    }
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

/** Slopes in the window from `start` and their parts of it; returns how many, and sets `passed`. */
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
      const part = Math.abs(place) < wholeNumberLimit ? place | 0 : place < 0 ? -1 : parts;
      slopes[count] = slope;
      partOf[count] = part;
      const isUnder = part >>> 31;
      under += isUnder;
      count += ((part - parts) >>> 31) - isUnder;
    }
    passed += under;
  }
  return count;
}

const line = { slope: 0, error: 0 };

// Stryker disable all: wherever the window lies, the answer is the same
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
// Stryker restore all

/**
 * Slopes at four ascending ranks, counted from nought, among the slopes of all pairs with different
 * x, into `out`, without sorting.
 *
 * The least-squares slope and its error say where the four will lie; one pass keeps the slopes in
 * that window and counts them by its parts, and only the parts that hold a rank are searched. The
 * window is a guess about speed only: where it misses, all slopes are.
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
    partOf = new Int32Array(2 * most);
    sharing = new Float64Array(2 * most);
  }
  fitLine(x, y, n);
  const width = 2 * errorsWide * line.error;
  if (!(width > 0)) {
    ranksOfAll(x, y, n, ranks, out);
    return;
  }
  const count = collect(x, y, n, line.slope - width / 2, parts / width);
  if (ranks[0]! < passed || ranks[3]! >= passed + count) {
    ranksOfAll(x, y, n, ranks, out);
    return;
  }
  ranksWithin(count, ranks, out);
}
