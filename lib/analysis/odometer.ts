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
const leastRate = 1;
/** With fewer steps no rate is usual: a common one then only decides between chains of equal length. */
const leastRates = 3;
const commonRate = toKilometres(40, 'mi');
const commonRateCost = 0.02;

interface UsualRate {
  readonly logRate: number;
  readonly cost: number;
}

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
  const sorted = entries.toSorted((a, b) => a.day - b.day);
  const usual = usualRate(sorted);
  const scores: number[] = [];
  const previous: (number | null)[] = [];
  sorted.forEach((entry, index) => {
    let score = 1;
    let from: number | null = null;
    // Latest first: a longer chain is met early, and shorter ones are passed over unpriced.
    for (let earlier = index - 1; earlier >= 0; earlier--) {
      if (scores[earlier]! + 1 <= score) continue;
      const worth = scores[earlier]! + 1 - stepCost(sorted[earlier]!, entry, usual);
      if (worth <= score) continue;
      score = worth;
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
    const { readingId, day, odometer } = entry;
    const last = kept.at(-1);
    const distance = last ? last.distance + stepOf(last, entry)! : odometer;
    kept.push({ readingId, day, odometer, distance });
  }
  const keptIndices = new Set(chain);
  return { kept, setAside: sorted.filter((_, index) => !keptIndices.has(index)) };
}

/** Distance of a step, through a rollover where only that makes it possible; null when impossible. */
function stepOf(from: OdometerEntry, to: OdometerEntry): Kilometres | null {
  const most = mostRate * daysBetween(from, to);
  const straight = to.odometer - from.odometer;
  if (straight >= 0) return straight <= most ? straight : null;
  for (const rollover of odometerRollovers)
    if (from.odometer < rollover && straight + rollover <= most) return straight + rollover;
  return null;
}

const daysBetween = (from: OdometerEntry, to: OdometerEntry) => Math.max(1, to.day - from.day);

function stepCost(from: OdometerEntry, to: OdometerEntry, usual: UsualRate): number {
  const distance = stepOf(from, to);
  if (distance === null) return Number.POSITIVE_INFINITY;
  const logRate = Math.log(Math.max(distance / daysBetween(from, to), leastRate));
  const surprise = Math.min(mostRateCost, usual.cost * (logRate - usual.logRate) ** 2);
  return surprise + (to.odometer < from.odometer ? rolloverCost : 0);
}

function usualRate(sorted: readonly OdometerEntry[]): UsualRate {
  const rates = sorted.slice(1).flatMap((entry, index) => {
    const from = sorted[index]!;
    const distance = stepOf(from, entry);
    return distance !== null && entry.day > from.day ? [distance / (entry.day - from.day)] : [];
  });
  const middle = rates.length < leastRates ? null : median(rates);
  return middle === null
    ? { logRate: Math.log(commonRate), cost: commonRateCost }
    : { logRate: Math.log(Math.max(middle, leastRate)), cost: rateCost };
}
