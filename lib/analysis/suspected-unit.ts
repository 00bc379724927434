import type { DraftReading } from '@/lib/analysis/plausibility';
import type { Question } from '@/lib/analysis/plausibility-questions';
import { seaLevelEquivalent } from '@/lib/atmosphere';
import {
  formatPressure,
  fromKilopascals,
  type Kilopascals,
  type PressureUnit,
  pressureUnits,
  toKilopascals,
} from '@/lib/measure';

/** What a unit nobody has read is likely to show, SLE. */
const usual = toKilopascals(13, 'psi');
/** An idle value further than this from what is expected is not likely. */
const likelyWithin = toKilopascals(2, 'psi');
/** Beside idle, so that a truly weak pump is not asked about twice. */
const shareOfIdle = { least: 0.45, most: 1 };

/** Whether idle lies within 2 psi of the unit's own level, SLE, or of 13 psi where it has none. Source: own choice. */
export const isIdleLikely = (
  idle: Kilopascals,
  ambient: Kilopascals,
  expectedSle: Kilopascals | null,
): boolean => Math.abs(seaLevelEquivalent(idle, ambient) - (expectedSle ?? usual)) <= likelyWithin;

/**
 * Asks for the unit of measure where the idle value is unlikely as keyed and likely in another unit:
 * 13.0 keyed as inHg is 6.4 psi and would stop a sound unit. Likely is within 2 psi of the unit's own
 * level, or of 13 psi where it has none, SLE.
 * Source: own choice. No idle: null.
 *
 * @example 13.0 keyed as inHg at sea level asks whether it is psi
 */
export function suspectedUnit(
  { idle, lowest, keyedIn }: Pick<DraftReading, 'idle' | 'lowest' | 'keyedIn'>,
  ambient: Kilopascals,
  expectedSle: Kilopascals | null,
): Question | null {
  if (idle === null) return null;
  const isLikely = (vacuum: Kilopascals) => isIdleLikely(vacuum, ambient, expectedSle);
  if (isLikely(idle)) return null;
  const figure = fromKilopascals(idle, keyedIn);
  const other = likelyUnit(idle, keyedIn, isLikely);
  if (!other || !isInProportion(lowest, idle)) return null;
  return {
    id: 'unit of measure',
    field: 'idle',
    message: `Idle ${formatPressure(idle, keyedIn)} is not what this unit shows; ${figure.toFixed(1)} ${other} would be.`,
    choices: [keyedIn, other] satisfies readonly PressureUnit[],
  };
}

/** Unit of measure in which the same figure would be likely; undefined when there is none. */
export function likelyUnit(
  vacuum: Kilopascals,
  keyedIn: PressureUnit,
  isLikely: (vacuum: Kilopascals) => boolean,
): PressureUnit | undefined {
  const figure = fromKilopascals(vacuum, keyedIn);
  return pressureUnits.find((unit) => unit !== keyedIn && isLikely(toKilopascals(figure, unit)));
}

/** Lowest keyed in the same wrong unit keeps its proportion to idle. */
const isInProportion = (lowest: Kilopascals | null, idle: Kilopascals): boolean =>
  lowest === null || (lowest >= shareOfIdle.least * idle && lowest <= shareOfIdle.most * idle);
