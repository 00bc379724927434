import type { Condition } from '@/lib/bulletins/condition';
import type { Possible } from '@/lib/bulletins/possible';

/** First days of the stretches that build-date conditions cut the calendar into. */
export function cutsOf(conditions: readonly Condition[]): number[] {
  const cuts = new Set<number>();
  for (const { fact, turns, holds } of conditions) {
    if (fact !== 'build date') continue;
    for (const day of turns.map(Number)) {
      if (holds(day) !== holds(day - 1)) cuts.add(day);
      if (holds(day) !== holds(day + 1)) cuts.add(day + 1);
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

/** Index of the stretch that a day lies in. */
const stretchOf = (day: number, cuts: readonly number[]): number => {
  const after = cuts.findIndex((cut) => cut > day);
  return after < 0 ? cuts.length : after;
};

export function stretchOfUnit(built: Possible, cuts: readonly number[], unit: number): Stretch {
  const [from, to] =
    built.is === 'known'
      ? [Number(built.value), Number(built.value)]
      : built.is === 'within'
        ? [built.from, built.to]
        : [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
  const [low, high] = [stretchOf(from, cuts), stretchOf(to, cuts)];
  return { low, high, isDateOpen: low !== high, units: [unit] };
}

/** Joins the stretches of one class that touch; units without a build date stay by themselves. */
export function joinStretches(stretches: readonly Stretch[], last: number): Stretch[] {
  const joined: Stretch[] = [];
  const isUndated = ({ low, high }: Stretch) => last > 0 && low === 0 && high === last;
  const order = (one: Stretch, other: Stretch) =>
    Number(isUndated(one)) - Number(isUndated(other)) || one.low - other.low;
  for (const next of [...stretches].sort(order)) {
    const previous = joined.at(-1);
    const touches =
      previous && next.low <= previous.high + 1 && isUndated(previous) === isUndated(next);
    if (!touches) {
      joined.push({ ...next, units: [...next.units] });
      continue;
    }
    previous.high = Math.max(previous.high, next.high);
    previous.isDateOpen &&= next.isDateOpen;
    for (const unit of next.units) previous.units.push(unit);
  }
  return joined;
}
