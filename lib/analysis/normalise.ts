import type { Reading } from '@/lib/analysis/reading';
import { ambientPressureAt, seaLevelEquivalent } from '@/lib/atmosphere';
import { type Kilopascals, type Metres, toKilopascals } from '@/lib/measure';

/** Weather moves station pressure less than this from the standard value of a place. */
export const barometerTolerance: Kilopascals = 5;

/** A pump cannot pull more than this share of ambient pressure: the figure is in another unit. */
export const mostShareOfAmbient = 0.985;

/** A gauge jitters by this much between the idle value and the least value of a strong booster. */
const jitter = toKilopascals(0.1, 'psi');

/** A reading whose figures can be true, with both judgements of its vacuum. */
export interface SoundReading extends Reading {
  readonly ambient: Kilopascals;
  readonly idleSle: Kilopascals | null;
  readonly lowestSle: Kilopascals | null;
}

export type Normalised =
  | { readonly isSound: true; readonly reading: SoundReading }
  | { readonly isSound: false; readonly why: string };

/**
 * Ambient pressure of a reading, kPa absolute: the barometer, unless it lies more than 5 kPa from the
 * standard atmosphere at the elevation, which is what a sea-level-corrected figure does in the hills.
 * Source: ISO 2533:1975 for the atmosphere; the 5 kPa are an own choice.
 * No barometer: the standard atmosphere.
 *
 * @example ambientOf(101.3, 1600) is 83.5: a corrected barometer is not believed
 */
export function ambientOf(barometer: Kilopascals | null, elevation: Metres): Kilopascals {
  const standard = ambientPressureAt(elevation);
  if (barometer === null || !(Math.abs(barometer - standard) <= barometerTolerance)) {
    return standard;
  }
  return barometer;
}

const measuredFields = ['idle', 'raised', 'lowest', 'recovery', 'holdLoss'] as const;

/**
 * Adds the sea-level equivalents to a reading, or says why its figures cannot be true together:
 * vacuum above 0.985 of ambient, less than nothing, or lowest above idle. Such a reading is set aside
 * whole, since the unit of measure or the order of its figures is in doubt. kPa below ambient.
 * Source: own choice; 0.985 is the ratio that no pump of this kind reaches.
 * Thin data: what was not measured stays null.
 *
 * @example normalise({ ...reading, idle: 77.2, barometer: 89.9 }, 1000) has idleSle 87.0
 */
export function normalise(reading: Reading, elevation: Metres): Normalised {
  const ambient = ambientOf(reading.barometer, reading.elevation ?? elevation);
  for (const field of measuredFields) {
    const value = reading[field];
    if (value !== null && !(value >= 0 && value < Number.POSITIVE_INFINITY)) {
      return { isSound: false, why: `${field} is no measurement` };
    }
  }
  const { idle, raised, lowest } = reading;
  const most = mostShareOfAmbient * ambient;
  if ((idle ?? 0) > most || (raised ?? 0) > most || (lowest ?? 0) > most) {
    return { isSound: false, why: 'more vacuum than the air there can give' };
  }
  if (idle !== null && isLowestAboveIdle(lowest, idle)) {
    return { isSound: false, why: 'lowest above idle' };
  }
  return { isSound: true, reading: withEquivalents(reading, ambient) };
}

/** Field by field: a spread costs more than the rest of the verdict's own arithmetic. */
function withEquivalents(reading: Reading, ambient: Kilopascals): SoundReading {
  const { idle, lowest } = reading;
  return {
    id: reading.id,
    readOn: reading.readOn,
    entry: reading.entry,
    idle,
    raised: reading.raised,
    lowest,
    recovery: reading.recovery,
    holdLoss: reading.holdLoss,
    holdTime: reading.holdTime,
    line: reading.line,
    pedal: reading.pedal,
    belt: reading.belt,
    barometer: reading.barometer,
    odometer: reading.odometer,
    technician: reading.technician,
    gauge: reading.gauge,
    ambient,
    idleSle: idle === null ? null : seaLevelEquivalent(idle, ambient),
    lowestSle: lowest === null ? null : seaLevelEquivalent(lowest, ambient),
  };
}

export const isLowestAboveIdle = (lowest: Kilopascals | null, idle: Kilopascals): boolean =>
  lowest !== null && lowest > idle + jitter;
