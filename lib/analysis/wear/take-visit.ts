import { exponentialOfMinus } from '@/lib/analysis/wear/normal-table';
import type { PreparedPrior, WearBelief } from '@/lib/analysis/wear/wear-belief';
import {
  curveCount,
  lossesAt,
  smoothCurvesBegunBy,
  stepCurvesBegunBy,
} from '@/lib/analysis/wear/wear-curves';

/** Curves of less weight than this are let go; 1e-9 would move probabilities by up to 0.025. */
export const leastWeight = 1e-13;
/** Losses beyond this add no further wear noise, psi. */
export const noisyLoss = 6;

/** What one visit showed against what was expected of it. */
export interface VisitSurprise {
  z: number;
  readingInError: number;
  logLikelihood: number;
}

const losses = new Float64Array(curveCount);

/**
 * Bayes' rule for one visit: y psi at t years. Each curve's level takes the visit in as far as the
 * visit is likelier sound, N(e; 0, S), than in error, Cauchy of scale s; the curve's weight follows
 * how well it foresaw either. `source` is left as it was but for curves split off; `target` is what
 * is believed afterwards. `shares`, where given, keeps each curve's probability that the visit was
 * sound; the last entry is that of the curves not begun.
 *
 * Source: mixture of Kalman filters with a contaminated observation (Meinhold and Singpurwalla
 * 1989 is the idea of the Cauchy part).
 */
export function takeVisit(
  ready: PreparedPrior,
  source: WearBelief,
  target: WearBelief,
  t: number,
  y: number,
  surprise: VisitSurprise,
  shares?: Float64Array,
): void {
  const { prior } = ready;
  const smooth = Math.max(smoothCurvesBegunBy(t), source.smoothBegun);
  const steps = Math.max(stepCurvesBegunBy(t), source.stepsBegun);
  source.begin(ready.weights, smooth, steps, leastWeight);
  lossesAt(t, losses);

  const noise = prior.noise * prior.noise;
  const wear = prior.wearNoise / 2;
  const spread = prior.errorSpread * prior.errorSpread;
  const soundPeak = (1 - prior.errorShare) / Math.sqrt(2 * Math.PI);
  const errorPeak = (prior.errorShare * prior.errorSpread) / Math.PI;
  const { curve, weight, level, variance } = source;
  const { curve: toCurve, weight: toWeight, level: toLevel, variance: toVariance } = target;

  let mean = 0;
  let square = 0;
  let total = 0;
  let error = 0;
  let kept = 0;
  const count = source.count;
  for (let k = 0; k < count; k++) {
    const q = weight[k]!;
    if (q < leastWeight) continue;
    const id = curve[k]!;
    const loss = losses[id]!;
    const v = variance[k]!;
    const s = v + noise + wear * Math.min(loss, noisyLoss);
    const now = level[k]! - loss;
    const e = y - now;
    const squareError = e * e;
    const inverse = 1 / s;
    mean += q * now;
    square += q * (now * now + s);
    const sound = soundPeak * Math.sqrt(inverse) * exponentialOfMinus(0.5 * squareError * inverse);
    const wrong = errorPeak / (spread + squareError);
    const both = sound + wrong;
    const share = sound / both;
    const gain = share * v * inverse;
    const after = q * both;
    total += after;
    error += q * wrong;
    toCurve[kept] = id;
    toWeight[kept] = after;
    toLevel[kept] = level[k]! + gain * e;
    toVariance[kept] = v - gain * v;
    kept++;
    if (shares) shares[id] = share;
  }

  const q = source.rest * (ready.smoothFrom[smooth]! + ready.stepsFrom[steps]!);
  const s = source.restVariance + noise;
  const e = y - source.restLevel;
  const sound = (soundPeak / Math.sqrt(s)) * exponentialOfMinus((0.5 * e * e) / s);
  const wrong = errorPeak / (spread + e * e);
  const share = sound / (sound + wrong);
  const gain = (share * source.restVariance) / s;
  mean += q * source.restLevel;
  square += q * (source.restLevel * source.restLevel + s);
  total += q * (sound + wrong);
  error += q * wrong;
  if (shares) shares[curveCount] = share;

  const scale = 1 / total;
  for (let k = 0; k < kept; k++) toWeight[k] = toWeight[k]! * scale;
  target.count = kept;
  target.rest = source.rest * (sound + wrong) * scale;
  target.restLevel = source.restLevel + gain * e;
  target.restVariance = source.restVariance * (1 - gain);
  target.smoothBegun = smooth;
  target.stepsBegun = steps;
  surprise.z = (y - mean) / Math.sqrt(square - mean * mean);
  surprise.readingInError = error * scale;
  surprise.logLikelihood = Math.log(total);
}
