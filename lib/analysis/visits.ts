import type { SoundReading } from '@/lib/analysis/normalise';
import { byDayThenEntry, readingsAfter } from '@/lib/analysis/segments';
import type { DayNumber } from '@/lib/measure';

/** The readings of one day, in order of entry: a re-read follows what it confirms or corrects. */
export interface Visit {
  readonly day: DayNumber;
  readonly readings: readonly SoundReading[];
}

/** A measurement of one visit: the newest of that day, since a re-read supersedes. */
export interface Measured<Value> {
  readonly day: DayNumber;
  readonly value: Value;
  readonly reading: SoundReading;
}

/** Groups readings, given in order, by day. */
export function visitsOf(readings: readonly SoundReading[]): readonly Visit[] {
  const visits: Visit[] = [];
  for (let from = 0; from < readings.length; ) {
    const day = readings[from]!.readOn;
    let to = from + 1;
    while (to < readings.length && readings[to]!.readOn === day) to++;
    visits.push({ day, readings: readings.slice(from, to) });
    from = to;
  }
  return visits;
}

/** One measurement over the visits that made it, in order of day; `null` is "not made". */
export function seriesOf<Value>(
  visits: readonly Visit[],
  pick: (reading: SoundReading) => Value | null,
): readonly Measured<Value>[] {
  const series: Measured<Value>[] = [];
  for (const { day, readings } of visits) {
    for (let k = readings.length - 1; k >= 0; k--) {
      const reading = readings[k]!;
      const value = pick(reading);
      if (value === null) continue;
      series.push({ day, value, reading });
      break;
    }
  }
  return series;
}

export interface Closing {
  /** Newest release to service, or closing of an order with vacuum work. */
  readonly closedOn: DayNumber;
  readonly isRelease: boolean;
  readonly proofReadingIds: readonly string[];
}

/**
 * Readings that may speak against a unit since people last closed its case: from the proof on, or
 * where no proof is on record those after that day. What was read before has been answered.
 */
export function readingsSince(
  readings: readonly SoundReading[],
  closing: Closing | null,
): readonly SoundReading[] {
  if (!closing) return readings;
  const { closedOn, proofReadingIds } = closing;
  const proof = readings.findLast(
    ({ id, readOn }) => readOn <= closedOn && proofReadingIds.includes(id),
  );
  if (proof) return readings.filter((reading) => byDayThenEntry(reading, proof) >= 0);
  return closing.isRelease
    ? readings.filter(({ readOn }) => readOn > closedOn)
    : readingsAfter(readings, closedOn);
}
