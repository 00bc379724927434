import { normal } from '@/lib/statistics/normal';

export interface Interval {
  readonly lower: number;
  readonly upper: number;
}

export interface WeibullIntervals {
  readonly confidence: number;
  readonly shape: Interval;
  readonly scale: Interval;
  /** Time by which one in ten has failed. */
  readonly tenPercentLife: Interval & { readonly value: number };
  /** Of ln scale and of -ln shape, in that order, from the observed information. */
  readonly covariance: readonly [readonly [number, number], readonly [number, number]];
}

/**
 * Intervals of a fitted Weibull distribution, normal on the logarithms, from the observed information
 * at the maximum; `standardised` holds shape (ln t - ln scale) of every life.
 * Source: Lawless, Statistical Models and Methods for Lifetime Data (2003), section 5.2.
 */
export function weibullIntervals(fit: {
  shape: number;
  scale: number;
  standardised: readonly number[];
  failures: number;
  sumOverFailures: number;
  priorInformation: number;
  confidence: number;
}): WeibullIntervals {
  const { shape, scale, failures, confidence } = fit;
  let hazards = 0;
  let cross = -failures;
  let ofSigma = fit.priorInformation - fit.sumOverFailures;
  for (const z of fit.standardised) {
    const hazard = Math.exp(z);
    hazards += hazard;
    cross += hazard * (1 + z);
    ofSigma += hazard * z * (1 + z);
  }
  const ofScale = shape * shape * hazards;
  const both = shape * cross;
  const determinant = ofScale * ofSigma - both * both;
  const covariance = [
    [ofSigma / determinant, -both / determinant],
    [-both / determinant, ofScale / determinant],
  ] as const;
  const deviate = -normal.quantile((1 - confidence) / 2);
  const around = (value: number, variance: number) => {
    const factor = Math.exp(deviate * Math.sqrt(variance));
    return { value, lower: value / factor, upper: value * factor };
  };
  const reach = Math.log(-Math.log(0.9)) / shape;
  const { value: _scale, ...scaleInterval } = around(scale, covariance[0][0]);
  const { value: _shape, ...shapeInterval } = around(shape, covariance[1][1]);
  return {
    confidence,
    shape: shapeInterval,
    scale: scaleInterval,
    tenPercentLife: around(
      scale * Math.exp(reach),
      covariance[0][0] + 2 * reach * covariance[0][1] + reach * reach * covariance[1][1],
    ),
    covariance,
  };
}
