import type { Cause } from '@/lib/analysis/assessment';
import type { DiagnosisInput } from '@/lib/analysis/diagnose';

const hold =
  'Engine off for 60 s with the gauge on the booster side of the check valve: a fall tells a leak or the check valve from the pump.';
const presses =
  'Four full presses, then time the recovery: slow recovery tells a belt or line from the pump.';
const beltOrLine =
  'Engine off, look at the belt. Then time the recovery again at raised speed: a slipping belt changes it, a restricted line does not.';
const leakOrValve =
  'Engine off, clamp the line on the pump side of the check valve and hold again: a fall that stops is the check valve, one that goes on is a leak on the booster side.';
const pumpOutlet =
  'Gauge straight on the pump outlet before a pump is ordered: a leak on the pump side of the check valve looks like a weak pump.';
const raised =
  'Repeat idle at raised speed: a pump or belt that lags gains vacuum, a sound one hardly changes.';
const whole =
  'A whole reading: idle, four presses with recovery, 60 s hold, and the line at the booster.';
const readAgain = 'None outstanding: read again when the next reading is due.';

const holdCauses: readonly Cause[] = ['leak', 'check valve', 'pump', 'none shown'];
const recoveryCauses: readonly Cause[] = ['slipping belt', 'restricted line', 'pump', 'none shown'];

/** The check that would tell most next: a missing measurement first, then what separates the two likeliest. */
export function nextCheckFor(
  said: Cause,
  alternatives: readonly Cause[],
  input: DiagnosisInput,
): string {
  const open = [said, ...alternatives];
  const among = (...causes: Cause[]) => causes.every((cause) => open.includes(cause));
  const undecided = (causes: readonly Cause[]) =>
    causes.filter((cause) => open.includes(cause)).length >= 2;
  const noHold = input.holdLoss === null || input.holdTime === null;
  const noRecovery = input.recovery === null;
  if (said === 'cannot tell' && alternatives.length === 0) return whole;
  if (noHold && undecided(holdCauses)) return hold;
  if (noRecovery && undecided(recoveryCauses)) return presses;
  if (among('slipping belt', 'restricted line')) return beltOrLine;
  if (among('leak', 'check valve')) return leakOrValve;
  switch (said) {
    case 'pump':
      return pumpOutlet;
    case 'leak':
    case 'check valve':
      return leakOrValve;
    case 'slipping belt':
    case 'restricted line':
      return beltOrLine;
    case 'none shown':
      if (noHold) return hold;
      return alternatives.length > 0 && input.raisedDifference === null ? raised : readAgain;
    case 'cannot tell':
      return noHold ? hold : noRecovery ? presses : whole;
  }
}
