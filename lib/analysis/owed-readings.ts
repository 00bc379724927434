import type { Evidence } from '@/lib/analysis/evidence';
import { holdLossOf } from '@/lib/analysis/hold-loss';
import type { Limits } from '@/lib/analysis/limits';
import type { SoundReading } from '@/lib/analysis/normalise';
import type { DayNumber } from '@/lib/measure';

const goodReadings = 2;
const daysApart = 7;
/** Days after release or closing on which each good reading is due. */
const dueAfter = [14, 45] as const;

export interface OwedReadings {
  readonly count: number;
  readonly nextDueOn: DayNumber;
}

/**
 * Good readings still owed after a release or the closing of a vacuum order: two running, inside every
 * caution and dry, at least 7 days apart, the proof not counted. Due 14 and 45 days after.
 * Source: own choice. A line that was not seen counts for nothing; a reading that is not good starts
 * the count again. Nothing owed, or nothing closed: null.
 */
export function owedReadings(
  { closing, visitsSince }: Pick<Evidence, 'closing' | 'visitsSince'>,
  limits: Limits,
): OwedReadings | null {
  if (!closing) return null;
  let firstGoodOn: DayNumber | null = null;
  for (const { day, readings } of visitsSince) {
    if (day <= closing.closedOn) continue;
    for (const reading of readings) {
      if (closing.proofReadingIds.includes(reading.id) || reading.idle === null) continue;
      if (!isInsideCautions(reading, limits)) firstGoodOn = null;
      else if (reading.line === 'dry') {
        if (firstGoodOn !== null && day - firstGoodOn >= daysApart) return null;
        firstGoodOn ??= day;
      }
    }
  }
  if (firstGoodOn === null) {
    return { count: goodReadings, nextDueOn: closing.closedOn + dueAfter[0] };
  }
  return {
    count: goodReadings - 1,
    nextDueOn: Math.max(closing.closedOn + dueAfter[1], firstGoodOn + daysApart),
  };
}

/** Nothing that was measured lies past a caution. */
function isInsideCautions(reading: SoundReading, limits: Limits): boolean {
  const { idleSle, lowestSle, recovery, holdLoss, holdTime, idle, line, pedal } = reading;
  const held = holdLossOf({ loss: holdLoss, held: holdTime, from: idle }, limits);
  return (
    (idleSle ?? Number.POSITIVE_INFINITY) >= limits.idleCautionSle &&
    (lowestSle ?? Number.POSITIVE_INFINITY) >= limits.lowestCautionSle &&
    (recovery ?? 0) <= limits.recoveryCaution &&
    (held === null || held.loss <= held.caution) &&
    (line === 'dry' || line === 'not seen') &&
    (pedal ?? 'normal') === 'normal'
  );
}
