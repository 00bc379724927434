import { minimise } from '@/lib/statistics/minimise';
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

type Factor = readonly [number, number, number];
interface Moments {
  readonly count: number;
  readonly t: number;
  readonly tt: number;
  readonly y: number;
  readonly ty: number;
  readonly yy: number;
}

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
  const origin = values.reduce((sum, value) => sum + value, 0) / total;
  const moments = histories.map((history) => momentsOf(history, origin));
  if (moments.filter(({ count }) => count > 0).length < 2 || total < 3) return none('too few');
  const factorOf = (point: readonly number[]): Factor =>
    correlated ? [point[0]!, point[1]!, point[2]!] : [point[0]!, 0, point[1]!];
  const atStart = solve(moments, total, factorOf(correlated ? [1, 0, 1] : [1, 1]));
  if (!atStart) return none('no spread in t');
  if (!Number.isFinite(atStart.criterion)) return none('no scatter');
  const point = minimise(
    (at) => solve(moments, total, factorOf(at))?.criterion ?? Infinity,
    correlated ? [1, 0, 1] : [1, 1],
  );
  const factor = factorOf(point);
  const fit = solve(moments, total, factor)!;
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

function momentsOf({ t, y }: UnitHistory, origin: number): Moments {
  const sums = { count: t.length, t: 0, tt: 0, y: 0, ty: 0, yy: 0 };
  for (let i = 0; i < t.length; i++) {
    const value = y[i]! - origin;
    sums.t += t[i]!;
    sums.tt += t[i]! ** 2;
    sums.y += value;
    sums.ty += t[i]! * value;
    sums.yy += value ** 2;
  }
  return sums;
}

/**
 * With A = Z'Z of a unit, G the relative covariance of its line and K = I + A G: inverse covariance
 * weighs A as K^-1 A and Z'r as K^-1 Z'r, and the unit's own line is G K^-1 Z'r.
 */
function weigh(unit: Moments, [a, b, c]: Factor, r0: number, r1: number) {
  const g00 = a * a;
  const g01 = a * b;
  const g11 = b * b + c * c;
  const k00 = 1 + unit.count * g00 + unit.t * g01;
  const k01 = unit.count * g01 + unit.t * g11;
  const k10 = unit.t * g00 + unit.tt * g01;
  const k11 = 1 + unit.t * g01 + unit.tt * g11;
  const determinant = k00 * k11 - k01 * k10;
  const apply = (x0: number, x1: number) =>
    [(k11 * x0 - k01 * x1) / determinant, (k00 * x1 - k10 * x0) / determinant] as const;
  const right = apply(r0, r1);
  return {
    determinant,
    first: apply(unit.count, unit.t),
    second: apply(unit.t, unit.tt),
    right,
    own: [g00 * right[0] + g01 * right[1], g01 * right[0] + g11 * right[1]] as const,
  };
}

/** Fleet's line and profiled criterion for one relative covariance; null where the line is not fixed. */
function solve(units: readonly Moments[], total: number, factor: Factor) {
  let logDeterminants = 0;
  let w00 = 0;
  let w01 = 0;
  let w11 = 0;
  let v0 = 0;
  let v1 = 0;
  let squares = 0;
  for (const unit of units) {
    const { determinant, first, second, right, own } = weigh(unit, factor, unit.y, unit.ty);
    logDeterminants += Math.log(determinant);
    w00 += first[0];
    w01 += first[1];
    w11 += second[1];
    v0 += right[0];
    v1 += right[1];
    squares += unit.yy - unit.y * own[0] - unit.ty * own[1];
  }
  const determinant = w00 * w11 - w01 * w01;
  if (!(determinant > 1e-12 * w00 * w11)) return null;
  const intercept = (w11 * v0 - w01 * v1) / determinant;
  const slope = (w00 * v1 - w01 * v0) / determinant;
  squares -= v0 * intercept + v1 * slope;
  const freedom = total - 2;
  const criterion =
    logDeterminants +
    Math.log(determinant) +
    freedom * (1 + Math.log((2 * Math.PI * squares) / freedom));
  return { intercept, slope, squares, criterion: squares > 0 ? criterion : -Infinity };
}
