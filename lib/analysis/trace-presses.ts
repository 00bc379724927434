import type { ScreenedTrace } from '@/lib/analysis/trace-screen';
import { type Kilopascals, type Seconds, toKilopascals } from '@/lib/measure';
import { median } from '@/lib/statistics/median';

/** A sudden fall of vacuum: `at` is the first sample after it. */
export interface Press {
  readonly at: number;
  readonly fall: Kilopascals;
}

/** Vacuum that the pump restores within `window` of standing at `level`; zero before it is known. */
export type ExpectedRise = (level: Kilopascals, window: Seconds) => Kilopascals;

const window: Seconds = 0.6;
const leastFall = toKilopascals(0.25, 'psi');
/** Anywhere in the log; then, with the recovery known, near presses already found. */
const deviations = 4.5;
const deviationsAgain = 3.6;
const apart: Seconds = 0.6;
const clusterGap: Seconds = 6;
/** Falls of one sequence are alike: each takes the same share of the vacuum that is left. */
const leastShareOfTypical = 0.4;

/**
 * Presses of the pedal: falls of the mean over `window` that exceed 4.5 standard deviations of such a
 * difference. Once the recovery is known, what the pump restores within the window is added back, so
 * that a press during fast recovery counts in full. Of several clusters (6 s apart) the first with
 * three presses is the test; otherwise the largest.
 * Thin data: an empty list.
 */
export function findPresses(
  trace: ScreenedTrace,
  expectedRise: ExpectedRise = () => 0,
  typicalFall: Kilopascals = 0,
): readonly Press[] {
  const { vacuum, interval, noise } = trace;
  const width = Math.max(3, Math.round(window / interval));
  const threshold = Math.max(
    leastFall,
    (typicalFall > 0 ? deviationsAgain : deviations) * noise * Math.sqrt(2 / width),
    leastShareOfTypical * typicalFall,
  );
  const sums = cumulative(vacuum);
  const mean = (from: number, to: number) => (sums[to]! - sums[from]!) / (to - from);
  const falls = vacuum.map((_, at) => {
    if (at < width || at > vacuum.length - width) return Number.NEGATIVE_INFINITY;
    const before = mean(at - width, at);
    return before - mean(at, at + width) + expectedRise(before, width * interval);
  });
  const spacing = Math.max(width, Math.round(apart / interval));
  const presses: Press[] = [];
  for (const at of peaks(falls, threshold, spacing)) presses.push({ at, fall: falls[at]! });
  return testSequence(presses, Math.round(clusterGap / interval));
}

export const typicalFall = (presses: readonly Press[]): Kilopascals =>
  median(presses.map(({ fall }) => fall)) ?? 0;

function cumulative(values: readonly number[]): Float64Array {
  const sums = new Float64Array(values.length + 1);
  for (let index = 0; index < values.length; index++)
    sums[index + 1] = sums[index]! + values[index]!;
  return sums;
}

/** Highest points above a threshold, none nearer to a higher one than `spacing`, in order. */
function peaks(values: readonly number[], threshold: number, spacing: number): number[] {
  const candidates = values
    .map((value, index) => ({ value, index }))
    .filter(({ value }) => value > threshold)
    .sort((a, b) => b.value - a.value || a.index - b.index);
  const chosen: number[] = [];
  for (const { index } of candidates)
    if (chosen.every((other) => Math.abs(other - index) >= spacing)) chosen.push(index);
  return chosen.sort((a, b) => a - b);
}

function testSequence(presses: readonly Press[], gap: number): readonly Press[] {
  const clusters: Press[][] = [];
  for (const press of presses) {
    const current = clusters.at(-1);
    if (current && press.at - current.at(-1)!.at <= gap) current.push(press);
    else clusters.push([press]);
  }
  const full = clusters.find((cluster) => cluster.length >= 3);
  return full ?? clusters.reduce((a, b) => (b.length > a.length ? b : a), [] as Press[]);
}
