import type { UnitAssessment } from '@/lib/analysis/assess-unit';
import { holdLossOf } from '@/lib/analysis/hold-loss';
import type { Limits } from '@/lib/analysis/limits';
import type { Reading } from '@/lib/analysis/reading';
import { seaLevelPressure } from '@/lib/atmosphere';
import {
  fromKilopascals,
  type Kilopascals,
  type PressureUnit,
  pressureDecimals,
} from '@/lib/measure';

export interface Figure {
  readonly name: string;
  readonly read: string;
  /** Where Book in begins, as read at this shed; empty where no figure limits it. */
  readonly bookIn: string;
  readonly stop: string;
  readonly isPast: 'stop' | 'book in' | null;
}

interface Place {
  readonly limits: Limits;
  readonly ambient: Kilopascals;
  readonly pressureUnit: PressureUnit;
}

/**
 * Each measurement beside its limits, all as the gauge reads at this shed: a sea-level limit of 10.0
 * psi is 8.3 psi on a gauge at 1,500 m. What could not be measured shows a dash.
 */
export function figuresOf(
  reading: Reading,
  { baseline }: Pick<UnitAssessment, 'baseline'>,
  { limits, ambient, pressureUnit }: Place,
): readonly Figure[] {
  const { idle, lowest, recovery, holdLoss, holdTime, line, pedal } = reading;
  const asRead = (sle: Kilopascals) => sle * (ambient / seaLevelPressure);
  const figure = (value: Kilopascals) =>
    fromKilopascals(value, pressureUnit).toFixed(pressureDecimals[pressureUnit]);
  const atLeast = (name: string, value: number | null, sle: number, stop: number): Figure => ({
    name,
    read: value === null ? '–' : figure(value),
    bookIn: `< ${figure(asRead(sle))}`,
    stop: `< ${figure(stop)}`,
    isPast: value === null ? null : past(value < stop, value < asRead(sle)),
  });
  const recoveryCaution = Math.min(
    limits.recoveryCaution,
    limits.recoveryCautionTimesBaseline * (baseline.recovery ?? Number.POSITIVE_INFINITY),
  );
  const hold = holdLossOf({ loss: holdLoss, held: holdTime, from: idle }, limits);
  return [
    atLeast('Idle', idle, limits.idleCautionSle, limits.idleStopAsRead),
    atLeast('Lowest', lowest, limits.lowestCautionSle, limits.lowestStopAsRead),
    {
      name: 'Recovery, s',
      read: recovery?.toFixed(1) ?? '–',
      bookIn: `> ${recoveryCaution.toFixed(1)}`,
      stop: `> ${limits.recoveryStop.toFixed(1)}`,
      isPast:
        recovery === null ? null : past(recovery > limits.recoveryStop, recovery > recoveryCaution),
    },
    {
      name: `Lost in ${hold?.standard ?? 60} s`,
      read: hold ? figure(hold.loss) : '–',
      bookIn: `> ${figure(hold?.caution ?? limits.hold60Caution)}`,
      stop: `> ${figure(hold?.stop ?? limits.hold60Stop)}`,
      isPast: hold ? past(hold.loss > hold.stop, hold.loss > hold.caution) : null,
    },
    { name: 'Line', read: line, bookIn: '', stop: 'wet', isPast: past(line === 'wet', false) },
    {
      name: 'Pedal',
      read: pedal ?? '–',
      bookIn: '',
      stop: 'hard',
      isPast: past(pedal !== null && pedal !== 'normal', false),
    },
  ];
}

const past = (isPastStop: boolean, isPastBookIn: boolean): Figure['isPast'] => {
  if (isPastStop) return 'stop';
  return isPastBookIn ? 'book in' : null;
};
