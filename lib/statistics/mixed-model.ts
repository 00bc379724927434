import type { Samples } from '@/lib/statistics/require-samples';

/** Triangle [a 0; b c] whose square is the covariance of units' lines over the residual variance. */
export type Factor = readonly [number, number, number];

/** A unit's history as sums of powers. */
export interface Moments {
  readonly count: number;
  readonly t: number;
  readonly tt: number;
  readonly y: number;
  readonly ty: number;
  readonly yy: number;
}

/** Sums with y counted from `origin`, near its mean, so that squares lose no figures. */
export function momentsOf(t: Samples, y: Samples, origin: number): Moments {
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
export function weigh(unit: Moments, [a, b, c]: Factor, r0: number, r1: number) {
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
export function profiledFit(units: readonly Moments[], total: number, factor: Factor) {
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
