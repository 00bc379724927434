import type { Condition } from '@/lib/bulletins/condition';
import type { Possible } from '@/lib/bulletins/possible';
import type { FactName } from '@/lib/bulletins/unit-facts';

/**
 * First values of the stretches that conditions cut a fact of whole numbers into: days of build, years,
 * serial numbers.
 */
export function cutsOf(conditions: readonly Condition[], cut: FactName): number[] {
  const cuts = new Set<number>();
  for (const { fact, turns, holds } of conditions) {
    if (fact !== cut) continue;
    for (const value of turns.map(Number)) {
      if (holds(value) !== holds(value - 1)) cuts.add(value);
      if (holds(value) !== holds(value + 1)) cuts.add(value + 1);
    }
  }
  return [...cuts].sort((one, other) => one - other);
}

/** Units of one class between two cuts, by index of the first and last stretch that they reach. */
export interface Stretch {
  low: number;
  high: number;
  isDateOpen: boolean;
  units: number[];
}

/** Index of the stretch that a value lies in: how many cuts are not after it. */
export function stretchOf(value: number, cuts: readonly number[]): number {
  let [low, high] = [0, cuts.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((cuts[middle] ?? 0) > value) high = middle;
    else low = middle + 1;
  }
  return low;
}

/** The stretch of units that share one build date, as far as it is known. */
export function stretchOfBuilt(
  built: Possible,
  cuts: readonly number[],
  units: readonly number[],
): Stretch {
  const [from, to] =
    built.is === 'known'
      ? [Number(built.value), Number(built.value)]
      : built.is === 'within'
        ? [built.from, built.to]
        : [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
  const [low, high] = [stretchOf(from, cuts), stretchOf(to, cuts)];
  return { low, high, isDateOpen: low !== high, units: [...units] };
}

const isUndated = ({ low, high }: Stretch, last: number): boolean =>
  last > 0 && low === 0 && high === last;

/** Oldest first; units without a build date come last. */
export const inDateOrder =
  (last: number) =>
  (one: Stretch, other: Stretch): number =>
    Number(isUndated(one, last)) - Number(isUndated(other, last)) ||
    one.low - other.low ||
    one.high - other.high;

/** Joins stretches of one class that touch, into the first of them; units without a build date stay by themselves. */
export function joinStretches(stretches: readonly Stretch[], last: number): Stretch[] {
  const joined: Stretch[] = [];
  for (const next of stretches.toSorted(inDateOrder(last))) {
    const previous = joined.at(-1);
    const touches =
      previous &&
      next.low <= previous.high + 1 &&
      isUndated(previous, last) === isUndated(next, last);
    if (!touches) {
      joined.push(next);
      continue;
    }
    previous.high = Math.max(previous.high, next.high);
    previous.isDateOpen &&= next.isDateOpen;
    for (const unit of next.units) previous.units.push(unit);
  }
  return joined;
}
