import { keyedNumber } from '@/lib/intake/keyed-number';
import type { ReadingPayload } from '@/lib/intake/reading-payload';
import {
  type Kilometres,
  type Kilopascals,
  type Seconds,
  toKilometres,
  toKilopascals,
} from '@/lib/measure';
import { failure, type Problem, type Result, success } from '@/lib/result';

/** The SI values of a payload; what was not measured is null. */
export interface MeasuredValues {
  readonly idle: Kilopascals | null;
  readonly raised: Kilopascals | null;
  readonly lowest: Kilopascals | null;
  readonly recovery: Seconds | null;
  readonly holdLoss: Kilopascals | null;
  readonly odometer: Kilometres | null;
  readonly barometer: Kilopascals | null;
}

type KeyedField = keyof ReadingPayload['keyed'];
type Keyed = NonNullable<ReadingPayload['keyed'][KeyedField]>;

function inSi(value: number, { unit }: Keyed): number {
  if (unit === 's') return value;
  return unit === 'mi' || unit === 'km' ? toKilometres(value, unit) : toKilopascals(value, unit);
}

/** A needle read twice differs by its width: this much above idle is no loss, more is a slip. */
const needleWidth = toKilopascals(0.1, 'psi');

/**
 * Turns what was keyed into SI values, or says which field is no plain number. Where the vacuum left
 * after the hold was keyed, the loss is idle less it, and needs idle.
 *
 * @example idle 13.1 psi and 12.8 psi left is a hold loss of 0.3 psi, 2.068 kPa
 */
export function measuredValues(keyed: ReadingPayload['keyed']): Result<MeasuredValues> {
  const problems: Problem[] = [];
  const value = (field: KeyedField): number | null => {
    const entry = keyed[field];
    if (!entry) return null;
    const parsed = keyedNumber(entry.value, field);
    if (parsed.ok) return inSi(parsed.value, entry);
    problems.push(parsed.error);
    return null;
  };
  const idle = value('idle');
  const heldAfter = value('heldAfter');
  if (keyed.heldAfter && !keyed.idle) problems.push(heldNeedsIdle);
  if (idle !== null && heldAfter !== null && heldAfter > idle + needleWidth) {
    problems.push({ ...heldAboveIdle, value: keyed.heldAfter?.value ?? '' });
  }
  const values: MeasuredValues = {
    idle,
    raised: value('raised'),
    lowest: value('lowest'),
    recovery: value('recovery'),
    holdLoss:
      idle !== null && heldAfter !== null ? Math.max(0, idle - heldAfter) : value('holdLoss'),
    odometer: value('odometer'),
    barometer: value('barometer'),
  };
  return problems.length > 0 ? failure(problems) : success(values);
}

const heldNeedsIdle: Problem = {
  field: 'heldAfter',
  message: 'What was left says nothing without the idle vacuum.',
  mend: 'Key idle as well, or leave the hold out.',
};
const heldAboveIdle: Problem = {
  field: 'heldAfter',
  message: 'More was left after the hold than there was at idle.',
  mend: 'Key what the gauge shows with the engine off; check idle as well.',
};
