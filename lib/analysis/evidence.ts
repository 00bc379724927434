import { normalise, type SoundReading } from '@/lib/analysis/normalise';
import type { OdometerEntry } from '@/lib/analysis/odometer';
import type { Fitment, Reading } from '@/lib/analysis/reading';
import {
  beltOn,
  byDayThenEntry,
  readingsAfter,
  type Segment,
  segmentsOf,
} from '@/lib/analysis/segments';
import type { AssessUnitInput } from '@/lib/analysis/unit-assessment';
import { type Closing, readingsSince, type Visit, visitsOf } from '@/lib/analysis/visits';
import type { DayNumber } from '@/lib/measure';

/** What is on record of a unit up to a day, in order, with what cannot be true set aside. */
export interface Evidence {
  readonly sound: readonly SoundReading[];
  readonly setAside: readonly { readonly reading: Reading; readonly why: string }[];
  readonly segment: Segment;
  /** Visits of the current segment. */
  readonly visits: readonly Visit[];
  readonly closing: Closing | null;
  /** Visits of the segment since its case was last closed. */
  readonly visitsSince: readonly Visit[];
  readonly belt: Fitment | null;
  /** Visits since the belt was fitted. */
  readonly beltVisits: readonly Visit[];
  /** Of every reading, sound or not: an odometer is keyed apart from the gauge. */
  readonly odometers: readonly OdometerEntry[];
}

type Asked = Pick<
  AssessUnitInput,
  | 'unit'
  | 'readings'
  | 'fitments'
  | 'asOf'
  | 'releasedOn'
  | 'proofReadingIds'
  | 'vacuumOrderClosedOn'
>;

/** Gathers the evidence for a verdict. Readings of the same id count once; later than `asOf`, not at all. */
export function evidenceOf(asked: Asked): Evidence {
  const { unit, fitments, asOf } = asked;
  const sound: SoundReading[] = [];
  const setAside: { reading: Reading; why: string }[] = [];
  const odometers: OdometerEntry[] = [];
  for (const reading of readingsUpTo(asked.readings, asOf)) {
    if (reading.odometer !== null) {
      odometers.push({ readingId: reading.id, day: reading.readOn, odometer: reading.odometer });
    }
    const normalised = normalise(reading, unit.elevation);
    if (normalised.isSound) sound.push(normalised.reading);
    else setAside.push({ reading, why: normalised.why });
  }
  const segment = segmentsOf(fitments, asOf).at(-1) as Segment;
  const ofSegment = readingsAfter(sound, segment.start);
  const closing = closingOf(asked, segment.start);
  const belt = beltOn(fitments, asOf);
  return {
    sound,
    setAside,
    segment,
    visits: visitsOf(ofSegment),
    closing,
    visitsSince: visitsOf(readingsSince(ofSegment, closing)),
    belt,
    beltVisits: visitsOf(sound.filter(({ readOn }) => readOn >= (belt?.fittedOn ?? readOn))),
    odometers,
  };
}

function readingsUpTo(readings: readonly Reading[], asOf: DayNumber): readonly Reading[] {
  const byId = new Map<string, Reading>();
  for (const reading of readings) {
    if (reading.readOn <= asOf && !byId.has(reading.id)) byId.set(reading.id, reading);
  }
  return [...byId.values()].sort(byDayThenEntry);
}

function closingOf(
  { releasedOn = null, vacuumOrderClosedOn, proofReadingIds = [], asOf }: Asked,
  segmentStart: DayNumber | null,
): Closing | null {
  const upToNow = (day: DayNumber | null) => (day !== null && day <= asOf ? day : null);
  const released = upToNow(releasedOn);
  const closed = vacuumOrderClosedOn === undefined ? segmentStart : upToNow(vacuumOrderClosedOn);
  if (released === null && closed === null) return null;
  const isRelease = (released ?? Number.NEGATIVE_INFINITY) >= (closed ?? Number.NEGATIVE_INFINITY);
  return { closedOn: (isRelease ? released : closed) as DayNumber, isRelease, proofReadingIds };
}
