/**
 * Root of a continuous function between two points where its signs differ, to the spacing of doubles.
 * Inverse quadratic interpolation where it is trustworthy, bisection where it is not; 200 steps at
 * most, which towards a jump at nought end short of that.
 * Source: Chandrupatla, Advances in Engineering Software 28 (1997) 145-149.
 *
 * @throws RangeError when the signs at the two ends agree
 * @example findRoot((x) => x * x - 2, 0, 2) -> 1.4142135623730951
 */
export function findRoot(f: (x: number) => number, lower: number, upper: number): number {
  let a = upper;
  let b = lower;
  let fa = f(a);
  let fb = f(b);
  if (fa === 0) return a;
  if (fb === 0) return b;
  if (!(fa > 0 !== fb > 0)) throw new RangeError(`no change of sign from ${lower} to ${upper}`);
  let t = 0.5;
  for (let round = 0; round < 200; round++) {
    const x = a + t * (b - a);
    const fx = f(x);
    let c: number;
    let fc: number;
    if (fx > 0 === fa > 0) {
      c = a;
      fc = fa;
    } else {
      c = b;
      fc = fb;
      b = a;
      fb = fa;
    }
    a = x;
    fa = fx;
    const nearest = Math.abs(fa) < Math.abs(fb) ? a : b;
    const tolerance = (2 * Number.EPSILON * Math.abs(nearest) + 1e-300) / Math.abs(b - a);
    if (tolerance > 0.5 || fa === 0) return nearest;
    const position = (a - b) / (c - b);
    const height = (fa - fb) / (fc - fb);
    const curvesGently = height * height < position && (1 - height) ** 2 < 1 - position;
    t = curvesGently
      ? (fa / (fb - fa)) * (fc / (fb - fc)) +
        ((c - a) / (b - a)) * (fa / (fc - fa)) * (fb / (fc - fb))
      : 0.5;
    t = Math.min(Math.max(t, tolerance), 1 - tolerance);
  }
  return a;
}

/**
 * Root of an increasing function over all reals: steps out from `start` by doubling until the sign
 * changes, then `findRoot`.
 *
 * @example solveIncreasing((u) => Math.exp(u) - 10, 0) -> 2.302585092994046
 */
export function solveIncreasing(f: (x: number) => number, start: number): number {
  let step = 0.5;
  let lower = start;
  let upper = start;
  if (f(start) > 0) {
    do {
      upper = lower;
      lower -= step;
      step *= 2;
    } while (f(lower) > 0);
  } else {
    do {
      lower = upper;
      upper += step;
      step *= 2;
    } while (f(upper) < 0);
  }
  return findRoot(f, lower, upper);
}
