import type { FleetPrior } from '@/lib/analysis/fleet-prior';
import { type DayNumber, type Kilopascals, kilopascalsPerUnit } from '@/lib/measure';

/** One reading of a segment. Several on a day are one visit, at their median. */
export interface WearPoint {
  readonly day: DayNumber;
  readonly idleSle: Kilopascals;
  /** Second signal, used where the prior has learnt how it follows idle. */
  readonly lowestSle?: Kilopascals | null;
}

/** A visit in psi, with every reading of that day. */
export interface WearVisit {
  readonly day: DayNumber;
  readonly idle: number;
  readonly readings: readonly number[];
}

export const median = (values: readonly number[]): number => {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
};

/** Readings in order of day, a day's together; what is not a finite number is left out. */
export function visitsOf(points: readonly WearPoint[]): WearVisit[] {
  const sound = points
    .filter((point) => Number.isFinite(point.day) && Number.isFinite(point.idleSle))
    .sort((a, b) => a.day - b.day);
  const visits: WearVisit[] = [];
  for (let from = 0; from < sound.length; ) {
    const day = sound[from]!.day;
    let to = from;
    while (to < sound.length && sound[to]!.day === day) to++;
    const readings = sound.slice(from, to).map((point) => point.idleSle / kilopascalsPerUnit.psi);
    visits.push({ day, idle: readings.length === 1 ? readings[0]! : median(readings), readings });
    from = to;
  }
  return visits;
}

/** Two readings of the day within three deviations of their difference confirm each other. */
export function isConfirmed(visit: WearVisit, prior: FleetPrior): boolean {
  const sorted = [...visit.readings].sort((a, b) => a - b);
  return sorted.some((value, k) => k > 0 && value - sorted[k - 1]! <= 3 * Math.SQRT2 * prior.noise);
}
