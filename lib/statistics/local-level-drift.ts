import { requirePositive, requireSamples, type Samples } from '@/lib/statistics/require-samples';

export interface LocalLevelDriftModel {
  /** Variance of one observation about the level. */
  readonly noiseVariance: number;
  /** Variance that the level gains a unit of t; 0 is a fixed line. */
  readonly levelVariance: number;
  /** What is known of the drift beforehand: units of y a unit of t. */
  readonly driftMean: number;
  readonly driftVariance: number;
}

export type LocalLevelDrift =
  | {
      /** At the last t. */
      readonly level: number;
      readonly drift: number;
      readonly levelVariance: number;
      readonly driftVariance: number;
      readonly covariance: number;
      /** Of all observations after the first, given the first. */
      readonly logLikelihood: number;
      /** (y - forecast) / standard deviation of the forecast, one an observation after the first. */
      readonly innovations: readonly number[];
      readonly whyNone: null;
    }
  | {
      readonly level: null;
      readonly drift: null;
      readonly levelVariance: null;
      readonly driftVariance: null;
      readonly covariance: null;
      readonly logLikelihood: null;
      readonly innovations: readonly [];
      readonly whyNone: 'no values';
    };

/**
 * Kalman filter of a level that wanders about a constant drift, observed with noise at times of any
 * spacing, in order: level(t + d) = level(t) + drift d + noise of variance levelVariance d.
 * The level starts unknown, so the first observation sets it and counts for nothing else.
 * Source: Durbin and Koopman, Time Series Analysis by State Space Methods (2012), sections 2.2 and 3.2.
 *
 * No values: `no values`. One value: that level, and the drift as it was known beforehand.
 *
 * @throws RangeError when times run backwards
 * @example localLevelDrift([0, 1], [10, 8], { noiseVariance: 1, levelVariance: 0, driftMean: 0, driftVariance: 2 }).drift -> -1
 */
export function localLevelDrift(
  t: Samples,
  y: Samples,
  model: LocalLevelDriftModel,
): LocalLevelDrift {
  requireSamples(t, y);
  requirePositive({ noiseVariance: model.noiseVariance });
  if (t.length === 0) {
    return {
      level: null,
      drift: null,
      levelVariance: null,
      driftVariance: null,
      covariance: null,
      logLikelihood: null,
      innovations: [],
      whyNone: 'no values',
    };
  }
  let level = y[0]!;
  let drift = model.driftMean;
  let levelVariance = model.noiseVariance;
  let driftVariance = model.driftVariance;
  let covariance = 0;
  let logLikelihood = 0;
  const innovations: number[] = [];
  for (let i = 1; i < t.length; i++) {
    const gap = t[i]! - t[i - 1]!;
    if (gap < 0) throw new RangeError(`time ${i} runs backwards`);
    level += drift * gap;
    levelVariance += gap * (2 * covariance + gap * driftVariance + model.levelVariance);
    covariance += gap * driftVariance;
    const variance = levelVariance + model.noiseVariance;
    const error = y[i]! - level;
    innovations.push(error / Math.sqrt(variance));
    logLikelihood -= 0.5 * (Math.log(2 * Math.PI * variance) + (error * error) / variance);
    level += (levelVariance / variance) * error;
    drift += (covariance / variance) * error;
    driftVariance -= (covariance * covariance) / variance;
    covariance *= model.noiseVariance / variance;
    levelVariance *= model.noiseVariance / variance;
  }
  return {
    level,
    drift,
    levelVariance,
    driftVariance,
    covariance,
    logLikelihood,
    innovations,
    whyNone: null,
  };
}
