import type { TraceReading } from '@/lib/analysis/trace';
import type { EntryField } from '@/lib/bay-card/draft';
import type { TraceOfReading } from '@/lib/intake/reading-payload';
import { fromKilopascals, type PressureUnit } from '@/lib/measure';

export interface FilledByTrace {
  /** Digits as the pad would have them. */
  readonly entries: Readonly<Partial<Record<EntryField, string>>>;
  /** The fuller figures; what was lost in the hold stands for what was left after it. */
  readonly traced: Readonly<Partial<Record<EntryField, string>>>;
  readonly holdTimeS: number | null;
  readonly trace: TraceOfReading;
}

/** A trace is read finer than a needle: hundredths of psi and inHg, tenths of a second. */
const decimals = 2;

/**
 * The entries of the card that a trace fills, in the unit of measure in which the card is keyed. What
 * the trace could not give is left out, and is measured by hand.
 *
 * @example an idle of 89.6 kPa in psi fills the digits 130, and 13.00 is sent
 */
export function filledByTrace(
  reading: TraceReading,
  pressureUnit: PressureUnit,
  isCorrected: boolean,
): FilledByTrace {
  const { idle, lowest, recovery, holdLoss, holdTime } = reading;
  const figure = (value: number) => Math.max(0, fromKilopascals(value, pressureUnit));
  const digits = (value: number) => String(Math.round(value * 10));
  const hasHold = holdLoss !== null && holdTime !== null;
  return {
    entries: {
      idle: digits(figure(idle)),
      lowest: digits(figure(lowest)),
      ...(recovery !== null && { recovery: digits(recovery) }),
      ...(hasHold && { heldAfter: digits(figure(idle - holdLoss)) }),
    },
    traced: {
      idle: figure(idle).toFixed(decimals),
      lowest: figure(lowest).toFixed(decimals),
      ...(recovery !== null && { recovery: recovery.toFixed(1) }),
      ...(hasHold && { heldAfter: figure(holdLoss).toFixed(decimals) }),
    },
    holdTimeS: hasHold ? Math.round(holdTime) : null,
    trace: {
      timeConstantS: reading.timeConstant,
      recoveryToLevelS: reading.recoveryToLevel,
      levelKpa: reading.level,
      presses: reading.presses.length,
      keyOff: reading.keyOffFound,
      samplesPerSecond: reading.sampleRate,
      noiseKpa: reading.noise,
      isCorrected,
    },
  };
}
