import { noisyLoss } from '@/lib/analysis/wear/take-visit';
import type { PreparedPrior, WearBelief } from '@/lib/analysis/wear/wear-belief';
import { curveCount, lossOf, smoothCount } from '@/lib/analysis/wear/wear-curves';

/** Curves of no more weight than this have no say in a forecast. */
const leastSay = 2e-4;

/** The curves that have a say in a forecast made at `years` since the first visit; weights sum to 1. */
export interface WearPosterior {
  readonly years: number;
  readonly wearNoise: number;
  readonly curve: Int32Array;
  readonly weight: Float64Array;
  readonly level: Float64Array;
  readonly variance: Float64Array;
}

const scratch = {
  curve: new Int32Array(curveCount),
  weight: new Float64Array(curveCount),
  level: new Float64Array(curveCount),
  variance: new Float64Array(curveCount),
};

export function posteriorOf(
  ready: PreparedPrior,
  belief: WearBelief,
  years: number,
): WearPosterior {
  const { curve, weight, level, variance } = scratch;
  let count = 0;
  let total = 0;
  for (let k = 0; k < belief.count; k++) {
    const q = belief.weight[k]!;
    if (q <= leastSay) continue;
    curve[count] = belief.curve[k]!;
    weight[count] = q;
    level[count] = belief.level[k]!;
    variance[count] = belief.variance[k]!;
    count++;
    total += q;
  }
  for (let k = belief.smoothBegun; k < curveCount; k++) {
    if (k === smoothCount) k += belief.stepsBegun;
    if (k >= curveCount) break;
    const q = belief.rest * ready.weights[k]!;
    if (q <= leastSay) continue;
    curve[count] = k;
    weight[count] = q;
    level[count] = belief.restLevel;
    variance[count] = belief.restVariance;
    count++;
    total += q;
  }
  const scale = 1 / total;
  const weights = weight.slice(0, count);
  for (let k = 0; k < count; k++) weights[k] = weights[k]! * scale;
  return {
    years,
    wearNoise: ready.prior.wearNoise,
    curve: curve.slice(0, count),
    weight: weights,
    level: level.slice(0, count),
    variance: variance.slice(0, count),
  };
}

/** Mean and standard deviation of the true level `ahead` years after the newest visit, psi. */
export function levelOf(posterior: WearPosterior, ahead: number) {
  let mean = 0;
  let square = 0;
  for (let k = 0; k < posterior.curve.length; k++) {
    const loss = lossOf(posterior.curve[k]!, posterior.years + ahead);
    const level = posterior.level[k]! - loss;
    const variance = posterior.variance[k]! + posterior.wearNoise * Math.min(loss, noisyLoss);
    mean += posterior.weight[k]! * level;
    square += posterior.weight[k]! * (level * level + variance);
  }
  return { mean, deviation: Math.sqrt(Math.max(square - mean * mean, 0)) };
}
