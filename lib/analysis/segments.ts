import { type Fitment, type Part, type Reading, segmentParts } from '@/lib/analysis/reading';
import type { DayNumber } from '@/lib/measure';

/** Time between fittings that change the source of vacuum. */
export interface Segment {
  /** Null for the segment that tracking began in. */
  readonly start: DayNumber | null;
  readonly part: Part | null;
}

const isSegmentPart = (part: Part): boolean => segmentParts.includes(part);

/** Starts in order of day, one a day, none after `asOf`; the first part listed names it. */
export function segmentsOf(fitments: readonly Fitment[], asOf: DayNumber): readonly Segment[] {
  const starts = new Map<DayNumber, Part>();
  for (const { part, fittedOn } of fitments) {
    if (fittedOn === null || !(fittedOn <= asOf) || !isSegmentPart(part)) continue;
    const named = starts.get(fittedOn);
    if (!named || segmentParts.indexOf(part) < segmentParts.indexOf(named)) {
      starts.set(fittedOn, part);
    }
  }
  const ordered = [...starts].sort(([a], [b]) => a - b);
  return [{ start: null, part: null }, ...ordered.map(([start, part]) => ({ start, part }))];
}

/** Order of a unit's readings: by day, ties by entry, then by id. */
export const byDayThenEntry = (
  a: Pick<Reading, 'readOn' | 'entry' | 'id'>,
  b: Pick<Reading, 'readOn' | 'entry' | 'id'>,
): number => a.readOn - b.readOn || a.entry - b.entry || (a.id < b.id ? -1 : a.id > b.id ? 1 : 0);

/**
 * Readings after a day's work, from readings in order. Of that very day only the last counts: those
 * before it may have been taken before the part was fitted.
 *
 * @example readingsAfter([{ readOn: 9 }, { readOn: 10, entry: 1 }, { readOn: 10, entry: 2 }], 10) keeps entry 2
 */
export function readingsAfter<R extends Pick<Reading, 'readOn'>>(
  readings: readonly R[],
  day: DayNumber | null,
): readonly R[] {
  if (day === null) return readings;
  return readings.filter(
    ({ readOn }, k) => readOn > day || (readOn === day && readings[k + 1]?.readOn !== day),
  );
}

/** The belt on the unit at `asOf`: the newest one fitted and not yet removed. Null when none is on record. */
export function beltOn(fitments: readonly Fitment[], asOf: DayNumber): Fitment | null {
  let newest: Fitment | null = null;
  for (const fitment of fitments) {
    if (fitment.part !== 'belt' || (fitment.fittedOn ?? asOf) > asOf) continue;
    if (fitment.removedOn !== null && fitment.removedOn <= asOf) continue;
    if (!newest || (fitment.fittedOn ?? -1e9) > (newest.fittedOn ?? -1e9)) newest = fitment;
  }
  return newest;
}
