import type { DiagnosisInput } from '@/lib/analysis/diagnose';
import type { SignedCause } from '@/lib/analysis/diagnose-likelihood';
import { toKilopascals } from '@/lib/measure';
import { faultyAt } from './derive-signatures';
import { type PumpSystem, soundSystem, visit } from './pump-model';
import type { Random } from './random';

/** Sound systems differ; the signatures come from one of them. */
export const anySound = ({ uniform }: Random): PumpSystem => ({
  ...soundSystem,
  clearance: 0.1 + 0.06 * uniform(),
  sweep: 1.3 + 0.4 * uniform(),
  backLeak: 0.004 + 0.01 * uniform(),
  valveLeak: 0.0001 + 0.0004 * uniform(),
  ambient: 12.2 + 2.6 * uniform(),
  pressVolume: 0.5 + 0.1 * uniform(),
});

/** Standard deviations of the errors of a simulated visit, psi and in logarithms; holds are read to 0.1 psi. */
export const visitErrors = {
  reading: 0.3,
  baseline: 0.3 * Math.sqrt(1.57 / 4),
  recovery: 0.09,
  recoveryBaseline: 0.05,
  hold: 0.08,
} as const;
export const longestTimed = 40;
export const oilShare = (cause: SignedCause) => (cause === 'pump' ? 0.35 : 0.05);
const kilopascals = (psi: number) => toKilopascals(psi, 'psi');

/** Visits of one unit, one a severity, against one baseline. */
export function simulatedVisits(
  random: Random,
  cause: SignedCause,
  severities: readonly number[],
  seconds: number,
): DiagnosisInput[] {
  const { uniform, normal } = random;
  const system = anySound(random);
  const isByClearance = uniform() < 0.5;
  const before = visit(system);
  const seaLevel = 14.696 / system.ambient;
  const baselineError = () => visitErrors.baseline * normal();
  const [idleError, lowestError] = [baselineError(), baselineError()];
  const recoveryBaseline = before.recovery * Math.exp(visitErrors.recoveryBaseline * normal());
  return severities.map((severity) => {
    const isSound = cause === 'none shown' || severity === 0;
    const after = visit(isSound ? system : faultyAt(cause, severity, isByClearance, system));
    const loss = Math.round((after.holdLoss(seconds) + visitErrors.hold * normal()) * 10) / 10;
    const hasOil = uniform() < oilShare(cause);
    return {
      idleDrop: kilopascals(
        (before.idle - after.idle) * seaLevel + idleError + visitErrors.reading * normal(),
      ),
      lowestDrop: kilopascals(
        (before.lowest - after.lowest) * seaLevel + lowestError + visitErrors.reading * normal(),
      ),
      recovery: Math.min(longestTimed, after.recovery * Math.exp(visitErrors.recovery * normal())),
      recoveryBaseline,
      holdLoss: kilopascals(Math.max(0, loss)),
      holdTime: seconds,
      idle: kilopascals(after.idle),
      raisedDifference: null,
      line: hasOil ? 'film' : 'dry',
    };
  });
}
