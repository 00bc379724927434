import { daysPerYear } from '@/lib/analysis/wear/below-limit';
import type { FleetPrior } from '@/lib/analysis/wear/default-fleet-prior';
import { prepare } from '@/lib/analysis/wear/wear-belief';
import {
  bendCount,
  curveCount,
  smoothCount,
  stepSizes,
  wearingOnsets,
} from '@/lib/analysis/wear/wear-curves';
import { mostVisits, mostYears, WearTrack } from '@/lib/analysis/wear/wear-track';
import type { WearVisit } from '@/lib/analysis/wear/wear-visits';

const track = new WearTrack({ isHindsightKept: false });

/** What the fleet's segments, followed under one prior, say of it together. */
export interface FleetExpectation {
  readonly logLikelihood: number;
  /** Posterior weight of each curve, summed over segments. */
  readonly weights: Float64Array;
}

/** The opening visits of a segment, as many as the library's grid reaches. */
export const openingOf = (visits: readonly WearVisit[]): readonly WearVisit[] =>
  visits
    .slice(0, mostVisits)
    .filter((visit) => visit.day - visits[0]!.day <= mostYears * daysPerYear);

export function expectationOf(
  segments: readonly (readonly WearVisit[])[],
  prior: FleetPrior,
): FleetExpectation {
  const { weights: starting } = prepare(prior);
  const weights = new Float64Array(curveCount);
  let logLikelihood = 0;
  for (const visits of segments) {
    track.start(prior);
    for (const visit of visits) {
      track.take(visit.day, visit.idle);
      logLikelihood += track.surprise.logLikelihood;
    }
    const { after } = track;
    for (let k = 0; k < after.count; k++) {
      const curve = after.curve[k]!;
      weights[curve] = weights[curve]! + after.weight[k]!;
    }
    for (let k = after.smoothBegun; k < smoothCount; k++)
      weights[k] = weights[k]! + after.rest * starting[k]!;
    for (let k = smoothCount + after.stepsBegun; k < curveCount; k++)
      weights[k] = weights[k]! + after.rest * starting[k]!;
  }
  return { logLikelihood, weights };
}

/** Segments that the starting prior counts for in each factor; less for the two of bends. */
const priorSegments = 400;
const priorSegmentsOfBend = 100;

/**
 * One round of expectation maximisation: each factor becomes the posterior sums and `basis` counted as
 * `priorSegments`. Source: Dempster, Laird and Rubin (1977), with Dirichlet priors.
 */
export function nextFactors(
  basis: FleetPrior,
  current: FleetPrior,
  { weights }: FleetExpectation,
): FleetPrior {
  const onset = basis.onset.map((share) => share * priorSegments);
  const bend = basis.bend.map((share) => share * priorSegmentsOfBend);
  const laterBend = [...bend];
  const stepSize = basis.stepSize.map((share) => share * priorSegments);
  let smooth = (1 - basis.stepShare) * priorSegments;
  let step = basis.stepShare * priorSegments;
  for (let k = 0; k < curveCount; k++) {
    const weight = weights[k]!;
    if (k < smoothCount) {
      onset[(k / bendCount) | 0]! += weight;
      (k < wearingOnsets * bendCount ? bend : laterBend)[k % bendCount]! += weight;
      smooth += weight;
    } else {
      stepSize[(k - smoothCount) % stepSizes.length]! += weight;
      step += weight;
    }
  }
  const shares = (sums: readonly number[]) => {
    const total = sums.reduce((sum, value) => sum + value, 0);
    return sums.map((value) => value / total);
  };
  return {
    ...current,
    onset: shares(onset),
    bend: shares(bend),
    laterBend: shares(laterBend),
    stepSize: shares(stepSize),
    stepShare: step / (smooth + step),
  };
}

/** Rounds of expectation maximisation from `current`, with `basis` as the starting prior. */
export function maximiseFactors(
  segments: readonly (readonly WearVisit[])[],
  basis: FleetPrior,
  current: FleetPrior,
  rounds: number,
): FleetPrior {
  let prior = current;
  for (let round = 0; round < rounds; round++)
    prior = nextFactors(basis, prior, expectationOf(segments, prior));
  return prior;
}
