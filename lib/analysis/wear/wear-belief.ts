import type { FleetPrior } from '@/lib/analysis/wear/default-fleet-prior';
import { stepTime } from '@/lib/analysis/wear/default-fleet-prior';
import {
  bendCount,
  curveCount,
  onsetYears,
  smoothCount,
  stepSizes,
  stepYears,
  wearingOnsets,
} from '@/lib/analysis/wear/wear-curves';

/** Weight of every curve before the first visit. The default's are the published fixture's. */
export function curveWeights(prior: FleetPrior): Float64Array {
  const weights = new Float64Array(curveCount);
  const { bend: earlyBend, laterBend = earlyBend } = prior;
  let curve = 0;
  for (let onset = 0; onset < onsetYears.length; onset++) {
    const bends = onset < wearingOnsets ? earlyBend : laterBend;
    for (let bend = 0; bend < bendCount; bend++)
      weights[curve++] = (1 - prior.stepShare) * prior.onset[onset]! * bends[bend]!;
  }
  for (let time = 0; time < stepYears.length; time++)
    for (let size = 0; size < stepSizes.length; size++)
      weights[curve++] = prior.stepShare * stepTime[time]! * prior.stepSize[size]!;
  return weights;
}

/** A prior made ready for the loops. */
export interface PreparedPrior {
  readonly prior: FleetPrior;
  readonly weights: Float64Array;
  /** Weight of the curves from each number on, smooth and steps apart: what has not begun. */
  readonly smoothFrom: Float64Array;
  readonly stepsFrom: Float64Array;
}

const prepared = new WeakMap<FleetPrior, PreparedPrior>();

export function prepare(prior: FleetPrior): PreparedPrior {
  let ready = prepared.get(prior);
  if (!ready) {
    const weights = curveWeights(prior);
    ready = {
      prior,
      weights,
      smoothFrom: sumsFrom(weights.subarray(0, smoothCount)),
      stepsFrom: sumsFrom(weights.subarray(smoothCount)),
    };
    prepared.set(prior, ready);
  }
  return ready;
}

function sumsFrom(weights: Float64Array): Float64Array {
  const sums = new Float64Array(weights.length + 1);
  for (let k = weights.length - 1; k >= 0; k--) sums[k] = sums[k + 1]! + weights[k]!;
  return sums;
}

/** A belief as plain JSON. */
export interface BeliefSnapshot {
  readonly curve: readonly number[];
  readonly weight: readonly number[];
  readonly level: readonly number[];
  readonly variance: readonly number[];
  readonly rest: number;
  readonly restLevel: number;
  readonly restVariance: number;
  readonly smoothBegun: number;
  readonly stepsBegun: number;
}

/**
 * What is believed of one segment: for each curve that has begun its weight q, the level m before
 * wear and its variance V. Curves that have not begun all share one level: `rest` is what their
 * prior weights are to be multiplied with.
 */
export class WearBelief {
  count = 0;
  readonly curve = new Int32Array(curveCount);
  readonly weight = new Float64Array(curveCount);
  readonly level = new Float64Array(curveCount);
  readonly variance = new Float64Array(curveCount);
  rest = Number.NaN;
  restLevel = Number.NaN;
  restVariance = Number.NaN;
  smoothBegun = 0;
  stepsBegun = 0;

  start(prior: FleetPrior): void {
    this.count = 0;
    this.rest = 1;
    this.restLevel = prior.startLevel;
    this.restVariance = prior.startDeviation ** 2;
    this.smoothBegun = 0;
    this.stepsBegun = 0;
  }

  snapshot(): BeliefSnapshot {
    const { count, rest, restLevel, restVariance, smoothBegun, stepsBegun } = this;
    return {
      curve: [...this.curve.subarray(0, count)],
      weight: [...this.weight.subarray(0, count)],
      level: [...this.level.subarray(0, count)],
      variance: [...this.variance.subarray(0, count)],
      ...{ rest, restLevel, restVariance, smoothBegun, stepsBegun },
    };
  }

  restore(snapshot: BeliefSnapshot): void {
    this.count = snapshot.curve.length;
    this.curve.set(snapshot.curve);
    this.weight.set(snapshot.weight);
    this.level.set(snapshot.level);
    this.variance.set(snapshot.variance);
    this.rest = snapshot.rest;
    this.restLevel = snapshot.restLevel;
    this.restVariance = snapshot.restVariance;
    this.smoothBegun = snapshot.smoothBegun;
    this.stepsBegun = snapshot.stepsBegun;
  }

  /** Gives every curve begun by now a state of its own; those below `least` are let go. */
  begin(weights: Float64Array, smooth: number, steps: number, least: number): void {
    this.split(weights, this.smoothBegun, smooth, least);
    this.split(weights, smoothCount + this.stepsBegun, smoothCount + steps, least);
    this.smoothBegun = smooth;
    this.stepsBegun = steps;
  }

  private split(weights: Float64Array, from: number, to: number, least: number): void {
    for (let k = from; k < to; k++) {
      const weight = this.rest * weights[k]!;
      if (weight < least) continue;
      const at = this.count++;
      this.curve[at] = k;
      this.weight[at] = weight;
      this.level[at] = this.restLevel;
      this.variance[at] = this.restVariance;
    }
  }
}
