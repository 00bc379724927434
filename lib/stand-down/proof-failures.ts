import { holdLossOf } from '@/lib/analysis/hold-loss';
import type { Limits } from '@/lib/analysis/limits';
import type { Reading } from '@/lib/analysis/reading';
import { seaLevelEquivalent } from '@/lib/atmosphere';
import { formatPressure, type Kilopascals, type PressureUnit } from '@/lib/measure';

export const proofMeasures = ['idle', 'lowest', 'recovery', 'hold', 'line', 'pedal'] as const;
export type ProofMeasure = (typeof proofMeasures)[number];

export type ProofFailure =
  | {
      readonly measure: 'idle' | 'lowest' | 'recovery' | 'hold';
      readonly value: number;
      readonly limit: number;
    }
  | { readonly measure: 'line' | 'pedal'; readonly found: string };

/**
 * What keeps a reading from proving a repair.
 * Needed: idle and lowest vacuum, as sea-level equivalents (kPa below ambient), not below the proof
 * limits; recovery (s) and hold loss (kPa) not above their cautions; line dry; pedal normal.
 * A hold is held against the caution for its own length (see `holdLossOf`); one that is blind
 * counts as not measured.
 * Source: common practice, no published source; the figures are the fleet's own limits.
 * Thin data: what could not be measured is listed in `notMeasured`, and is neither passed nor failed.
 *
 * @example proofFailures({ ...sound, pedal: 'hard' }, defaultLimits, 101.325).failures
 * is [{ measure: 'pedal', found: 'hard' }]
 */
export function proofFailures(
  reading: Reading,
  limits: Limits,
  ambient: Kilopascals,
): { readonly failures: readonly ProofFailure[]; readonly notMeasured: readonly ProofMeasure[] } {
  const { idle, lowest, recovery, holdLoss, holdTime, line, pedal } = reading;
  const failures: ProofFailure[] = [];
  const notMeasured: ProofMeasure[] = [];
  const needAtLeast = (measure: 'idle' | 'lowest', vacuum: number | null, limit: number) => {
    if (vacuum === null) return notMeasured.push(measure);
    const value = seaLevelEquivalent(vacuum, ambient);
    return value < limit ? failures.push({ measure, value, limit }) : 0;
  };
  needAtLeast('idle', idle, limits.proofIdleSle);
  needAtLeast('lowest', lowest, limits.proofLowestSle);

  if (recovery === null) notMeasured.push('recovery');
  else if (recovery > limits.recoveryCaution) {
    failures.push({ measure: 'recovery', value: recovery, limit: limits.recoveryCaution });
  }

  const held = holdLossOf({ loss: holdLoss, held: holdTime, from: idle }, limits);
  if (held && held.loss > held.caution) {
    failures.push({ measure: 'hold', value: held.loss, limit: held.caution });
  } else if (!held || held.isBlind) notMeasured.push('hold');

  if (line === 'not seen') notMeasured.push('line');
  else if (line !== 'dry') failures.push({ measure: 'line', found: line });
  if (pedal === null) notMeasured.push('pedal');
  else if (pedal !== 'normal') failures.push({ measure: 'pedal', found: pedal });
  return { failures, notMeasured };
}

const measureWords: Record<ProofMeasure, string> = {
  idle: 'idle',
  lowest: 'lowest',
  recovery: 'recovery',
  hold: 'hold loss',
  line: 'line',
  pedal: 'pedal',
};

export const proofMeasureWords = (measures: readonly ProofMeasure[]): string =>
  measures.map((measure) => measureWords[measure]).join(', ');

/** One failure in the reader's own unit, e.g. `idle 11.2 psi at sea level, needs 12.0 psi`. */
export function proofFailureWords(failure: ProofFailure, unit: PressureUnit): string {
  if ('found' in failure) return `${failure.measure} ${failure.found}`;
  const { measure, value, limit } = failure;
  if (measure === 'recovery') {
    return `recovery ${value.toFixed(1)} s, may take ${limit.toFixed(1)} s`;
  }
  const [is, needed] = [formatPressure(value, unit), formatPressure(limit, unit)];
  return measure === 'hold'
    ? `hold loss ${is}, may lose ${needed}`
    : `${measure} ${is} at sea level, needs ${needed}`;
}
