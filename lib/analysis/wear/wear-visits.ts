import { combineSignals } from '@/lib/analysis/wear/combine-signals';
import type { FleetPrior } from '@/lib/analysis/wear/default-fleet-prior';
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
  readonly lowest: number | null;
  readonly readings: readonly number[];
}

const psi = kilopascalsPerUnit.psi;

export const median = (values: readonly number[]): number => {
  if (values.length === 1) return values[0]!;
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
};

const inPsi = (value: Kilopascals | null | undefined): number | null =>
  typeof value === 'number' && Number.isFinite(value) ? value / psi : null;

/** Readings in order of day, a day's together; what is not a finite number is left out. */
export function visitsOf(points: readonly WearPoint[]): WearVisit[] {
  const sound = points.filter(
    (point) => Number.isFinite(point.day) && Number.isFinite(point.idleSle),
  );
  if (sound.some(({ day }, k) => k > 0 && day < sound[k - 1]!.day))
    sound.sort((a, b) => a.day - b.day);
  const visits: WearVisit[] = [];
  for (let from = 0; from < sound.length; ) {
    const { day, idleSle, lowestSle } = sound[from]!;
    let to = from + 1;
    while (to < sound.length && sound[to]!.day === day) to++;
    if (to === from + 1) {
      const idle = idleSle / psi;
      visits.push({ day, idle, lowest: inPsi(lowestSle), readings: [idle] });
    } else visits.push(visitOfSeveral(sound.slice(from, to)));
    from = to;
  }
  return visits;
}

function visitOfSeveral(points: readonly WearPoint[]): WearVisit {
  const readings = points.map(({ idleSle }) => idleSle / psi);
  const lowests = points.flatMap(({ lowestSle }) => inPsi(lowestSle) ?? []);
  return {
    day: points[0]!.day,
    idle: median(readings),
    lowest: lowests.length === 0 ? null : median(lowests),
    readings,
  };
}

/** The same visits with *lowest* taken into idle, where the fleet has learnt how. */
export function combinedVisits(
  visits: readonly WearVisit[],
  prior: Pick<FleetPrior, 'lowestSignal' | 'startLevel'>,
): readonly WearVisit[] {
  const { lowestSignal } = prior;
  if (!lowestSignal) return visits;
  let last = prior.startLevel;
  return visits.map((visit) => {
    last = combineSignals(visit.idle, visit.lowest, lowestSignal, last);
    return { ...visit, idle: last };
  });
}

/** Two readings of the day within three deviations of their difference confirm each other. */
export function isConfirmed(visit: WearVisit, prior: FleetPrior): boolean {
  const sorted = [...visit.readings].sort((a, b) => a - b);
  return sorted.some((value, k) => k > 0 && value - sorted[k - 1]! <= 3 * Math.SQRT2 * prior.noise);
}
