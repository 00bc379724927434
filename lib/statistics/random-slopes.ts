import { mean } from '@/lib/statistics/mean';
import { minimise } from '@/lib/statistics/minimise';
import { type Factor, momentsOf, profiledFit, weigh } from '@/lib/statistics/mixed-model';
import { requireSamples, type Samples } from '@/lib/statistics/require-samples';

export interface UnitHistory {
  readonly t: Samples;
  readonly y: Samples;
}

export type RandomSlopes =
  | {
      /** Of the fleet. */
      readonly intercept: number;
      readonly slope: number;
      /** Each unit's own, drawn towards the fleet's as its history is short; in the order given. */
      readonly units: readonly { readonly intercept: number; readonly slope: number }[];
      /** Standard deviation of one value about its unit's line. */
      readonly residualError: number;
      /** Variances and covariance of the units' intercepts and slopes about the fleet's. */
      readonly interceptVariance: number;
      readonly slopeVariance: number;
      readonly covariance: number;
      /** -2 log restricted likelihood. */
      readonly criterion: number;
      readonly whyNone: null;
    }
  | {
      readonly intercept: null;
      readonly slope: null;
      readonly units: readonly [];
      readonly residualError: null;
      readonly interceptVariance: null;
      readonly slopeVariance: null;
      readonly covariance: null;
      readonly criterion: null;
      readonly whyNone: 'too few' | 'no spread in t' | 'no scatter';
    };

const none = (whyNone: 'too few' | 'no spread in t' | 'no scatter'): RandomSlopes => ({
  intercept: null,
  slope: null,
  units: [],
  residualError: null,
  interceptVariance: null,
  slopeVariance: null,
  covariance: null,
  criterion: null,
  whyNone,
});

/**
 * Straight lines of many units at once, y = (a + a_u) + (b + b_u) t + error, by restricted maximum
 * likelihood: a unit with few readings borrows from the fleet.
 *
 * Intercepts and slopes of units vary independently unless `correlated`. The profiled criterion is
 * that of Bates and others, Journal of Statistical Software 67 (2015) 1, section 3; figures as R's
 * lme4::lmer(y ~ t + (t || unit)).
 *
 * Fewer than three values or two units: `too few`. All at one t: `no spread in t`. Values all on one
 * line: `no scatter`.
 *
 * @example randomSlopes([{ t: [0, 1], y: [1, 2] }, { t: [0, 1], y: [2, 3] }, { t: [0, 1], y: [4, 4.9] }]).units.length -> 3
 */
export function randomSlopes(
  histories: readonly UnitHistory[],
  { correlated = false }: { readonly correlated?: boolean } = {},
): RandomSlopes {
  for (const { t, y } of histories) requireSamples(t, y);
  const values = histories.flatMap(({ y }) => Array.from(y));
  const total = values.length;
  const origin = mean(values);
  const moments = histories.map(({ t, y }) => momentsOf(t, y, origin));
  if (moments.filter(({ count }) => count > 0).length < 2 || total < 3) return none('too few');
  // By the times themselves: far from nought, the rounding of sums looks like a spread.
  if (new Set(histories.flatMap(({ t }) => Array.from(t))).size === 1)
    return none('no spread in t');
  const factorOf = (point: readonly number[]): Factor =>
    correlated ? [point[0]!, point[1]!, point[2]!] : [point[0]!, 0, point[1]!];
  const atStart = profiledFit(moments, total, factorOf(correlated ? [1, 0, 1] : [1, 1]));
  if (!atStart) return none('no spread in t');
  if (!Number.isFinite(atStart.criterion)) return none('no scatter');
  const point = minimise(
    (at) => profiledFit(moments, total, factorOf(at))?.criterion ?? Infinity,
    correlated ? [1, 0, 1] : [1, 1],
  );
  const factor = factorOf(point);
  const fit = profiledFit(moments, total, factor)!;
  if (!Number.isFinite(fit.criterion)) return none('no scatter');
  const variance = fit.squares / (total - 2);
  const [a, b, c] = factor;
  return {
    intercept: origin + fit.intercept,
    slope: fit.slope,
    units: moments.map((unit) => {
      const r0 = unit.y - unit.count * fit.intercept - unit.t * fit.slope;
      const r1 = unit.ty - unit.t * fit.intercept - unit.tt * fit.slope;
      const [intercept, slope] = weigh(unit, factor, r0, r1).own;
      return { intercept: origin + fit.intercept + intercept, slope: fit.slope + slope };
    }),
    residualError: Math.sqrt(variance),
    interceptVariance: variance * a * a,
    slopeVariance: variance * (b * b + c * c),
    covariance: variance * a * b,
    criterion: fit.criterion,
    whyNone: null,
  };
}
