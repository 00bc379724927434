import type { Diagnosis } from '@/lib/analysis/assessment';
import { baselineVisits } from '@/lib/analysis/baseline';
import { type DiagnosisInput, diagnose } from '@/lib/analysis/diagnose';
import type { Evidence } from '@/lib/analysis/evidence';
import type { Baseline } from '@/lib/analysis/unit-assessment';
import type { Visit } from '@/lib/analysis/visits';
import { kilopascalsPerUnit, type PressureUnit } from '@/lib/measure';

/** Probable cause by the newest visit of the segment, and by the one before where nothing was mended since. */
export function diagnoseVisits(
  { visits, visitsSince, belt }: Evidence,
  baseline: Baseline,
  noisePsi: number,
  pressureUnit: PressureUnit | undefined,
): Diagnosis {
  const inputOf = (visit: Visit | undefined) =>
    diagnosisInput(visit, baseline, noisePsi, pressureUnit);
  const last = visits.length - 1;
  const before = last > baselineVisits ? visits[last - 1] : undefined;
  const counts =
    before &&
    before.day >= (visitsSince[0]?.day ?? before.day) &&
    before.day >= (belt?.fittedOn ?? before.day);
  return diagnose(inputOf(visits[last]), counts ? inputOf(before) : null);
}

/** Before there is a baseline, vacuum drops are unknown. */
function diagnosisInput(
  visit: Visit | undefined,
  baseline: Baseline,
  noisePsi: number,
  pressureUnit: PressureUnit | undefined,
): DiagnosisInput {
  const reading = visit?.readings.at(-1);
  const drop = (start: number | null, now: number | null | undefined) =>
    start === null || now == null ? null : start - now;
  return {
    idleDrop: drop(baseline.idleSle, reading?.idleSle),
    lowestDrop: drop(baseline.lowestSle, reading?.lowestSle),
    recovery: reading?.recovery ?? null,
    recoveryBaseline: baseline.recovery,
    holdLoss: reading?.holdLoss ?? null,
    holdTime: reading?.holdTime ?? null,
    idle: reading?.idle ?? null,
    raisedDifference: drop(reading?.raised ?? null, reading?.idle),
    line: reading?.line ?? 'not seen',
    noise: noisePsi * kilopascalsPerUnit.psi,
    ...(pressureUnit !== undefined && { pressureUnit }),
  };
}
