import { defaultLimits } from '@/lib/analysis/limits';
import { learnAlarmPower } from '@/lib/analysis/wear/alarm-power';
import { learnLowestSignal } from '@/lib/analysis/wear/combine-signals';
import { defaultFleetPrior, type FleetPrior } from '@/lib/analysis/wear/default-fleet-prior';
import { expectationOf, maximiseFactors, openingOf } from '@/lib/analysis/wear/fleet-expectation';
import { logPrior, sweepParameters } from '@/lib/analysis/wear/parameter-sweep';
import { robustMoments } from '@/lib/analysis/wear/robust-moments';
import { combinedVisits, visitsOf, type WearPoint } from '@/lib/analysis/wear/wear-visits';
import { type Kilopascals, kilopascalsPerUnit } from '@/lib/measure';

export type { FleetPrior } from '@/lib/analysis/wear/default-fleet-prior';
export { defaultFleetPrior } from '@/lib/analysis/wear/default-fleet-prior';

/** Below this many segments the wear noise cannot be told from the curves' own shapes. */
const segmentsForWearNoise = 100;

/**
 * Learns the fleet's prior from its segments: robust moments for noise and start level, then curve
 * weights by expectation maximisation and the five parameters by maximum posterior likelihood, in
 * turn; last the power of the wear score at `limitSle`, by that many simulated pumps. Segments without
 * a visit are left out; a fleet without any gets the default.
 *
 * `learnFleetPrior([]).segments` is 0.
 */
export function learnFleetPrior(
  segments: readonly (readonly WearPoint[])[],
  limitSle: Kilopascals = defaultLimits.idleCautionSle,
  simulatedPumps?: number,
): FleetPrior {
  const read = segments.map((points) => openingOf(visitsOf(points))).filter((v) => v.length > 0);
  if (read.length === 0) return defaultFleetPrior;
  const basis = { ...defaultFleetPrior, lowestSignal: learnLowestSignal(read) };
  const visits = read.map((segment) => combinedVisits(segment, basis));
  const fixed = visits.length < segmentsForWearNoise ? (['wearNoise'] as const) : [];
  const objective = (prior: FleetPrior) =>
    expectationOf(visits, prior).logLikelihood + logPrior(prior);

  let prior = maximiseFactors(visits, basis, robustMoments(visits, basis), 2);
  for (const widthScale of [1, 0.7]) {
    prior = sweepParameters(prior, widthScale, objective, fixed);
    prior = maximiseFactors(visits, basis, prior, 3);
  }
  const { onset, bend, stepShare, stepSize } = basis;
  prior = maximiseFactors(
    visits,
    basis,
    { ...prior, onset, bend, laterBend: bend, stepShare, stepSize },
    8,
  );
  const limit = limitSle / kilopascalsPerUnit.psi;
  const alarmPower = learnAlarmPower(visits, prior, limit, simulatedPumps);
  return { ...prior, segments: visits.length, alarmPower };
}
