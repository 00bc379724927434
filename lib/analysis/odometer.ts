import { type DayNumber, type Kilometres, toKilometres } from '@/lib/measure';
import { median } from '@/lib/statistics/median';

export interface OdometerEntry {
  readonly readingId: string;
  readonly day: DayNumber;
  readonly odometer: Kilometres;
}

/** `distance` carries on through rollovers. */
export interface PlacedOdometer extends OdometerEntry {
  readonly distance: Kilometres;
}

export interface CleanOdometers {
  /** In order of day. */
  readonly kept: readonly PlacedOdometer[];
  readonly setAside: readonly OdometerEntry[];
}

/** Kilometres a day; more is a typing error, not a journey. */
const mostRate = toKilometres(400, 'mi');
export const odometerRollovers: readonly Kilometres[] = [
  toKilometres(100_000, 'mi'),
  toKilometres(1_000_000, 'mi'),
];
/** A rollover is rare, so it must leave the unit near its usual rate. */
const rolloverCost = 0.5;
/** What a step costs for each squared log of its rate over the unit's usual rate, at most one entry's worth. */
const rateCost = 0.35;
const mostRateCost = 0.9;
const leastRate: Kilometres = 1;
/** With fewer, no rate is usual. */
const leastRates = 3;

/**
 * Entries that agree with each other: the chain in order of day that scores highest, an entry counting
 * one, less what its step from the entry before costs. A step runs at 0 to 400 mi a day, if need be
 * through a rollover at 100,000 or 1,000,000 mi, and costs more the further its rate lies from the
 * unit's usual one. The rest is set aside, never lost. Kilometres, days.
 * Source: own method (longest chain), judged on simulated fleets of known truth.
 * Thin data: one entry is kept as it is; none gives two empty lists.
 *
 * @example cleanOdometers of 16093, 1690 and 20921 km, 91 days apart, sets the 1690 aside
 */
export function cleanOdometers(entries: readonly OdometerEntry[]): CleanOdometers {
  const sorted = entries
    .map((entry, order) => ({ entry, order }))
    .sort((a, b) => a.entry.day - b.entry.day || a.order - b.order)
    .map(({ entry }) => entry);
  const usual = usualRate(sorted);
  const scores: number[] = [];
  const previous: (number | null)[] = [];
  sorted.forEach((entry, index) => {
    let score = 1;
    let from: number | null = null;
    for (let earlier = 0; earlier < index; earlier++) {
      const cost = stepCost(sorted[earlier]!, entry, usual);
      if (cost === null || scores[earlier]! + 1 - cost <= score) continue;
      score = scores[earlier]! + 1 - cost;
      from = earlier;
    }
    scores.push(score);
    previous.push(from);
  });

  const chain: number[] = [];
  let at: number | null = scores.length === 0 ? null : scores.indexOf(Math.max(...scores));
  while (at !== null) {
    chain.unshift(at);
    at = previous[at] ?? null;
  }
  const kept: PlacedOdometer[] = [];
  for (const index of chain) {
    const entry = sorted[index]!;
    const last = kept.at(-1);
    const distance = last ? last.distance + stepOf(last, entry)!.distance : entry.odometer;
    kept.push({ ...entry, distance });
  }
  const keptIndices = new Set(chain);
  return { kept, setAside: sorted.filter((_, index) => !keptIndices.has(index)) };
}

/** Distance of a step, through a rollover where only that makes it possible; null when impossible. */
function stepOf(
  from: OdometerEntry,
  to: OdometerEntry,
): { distance: Kilometres; rollsOver: boolean } | null {
  const most = mostRate * Math.max(1, to.day - from.day);
  const straight = to.odometer - from.odometer;
  if (straight >= 0) return straight <= most ? { distance: straight, rollsOver: false } : null;
  const rollover = odometerRollovers.find(
    (limit) => from.odometer < limit && straight + limit <= most,
  );
  return rollover === undefined ? null : { distance: straight + rollover, rollsOver: true };
}

function stepCost(from: OdometerEntry, to: OdometerEntry, usual: number | null): number | null {
  const step = stepOf(from, to);
  if (!step) return null;
  const rate = step.distance / Math.max(1, to.day - from.day);
  const surprise =
    usual === null ? 0 : Math.log(Math.max(rate, leastRate) / Math.max(usual, leastRate)) ** 2;
  return Math.min(mostRateCost, rateCost * surprise) + (step.rollsOver ? rolloverCost : 0);
}

function usualRate(sorted: readonly OdometerEntry[]): number | null {
  const rates = sorted.slice(1).flatMap((entry, index) => {
    const from = sorted[index]!;
    const step = stepOf(from, entry);
    return step && entry.day > from.day ? [step.distance / (entry.day - from.day)] : [];
  });
  return rates.length < leastRates ? null : median(rates);
}
