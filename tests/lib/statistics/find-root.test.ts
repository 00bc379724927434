import { describe, expect, it } from 'vitest';
import { findRoot, solveIncreasing } from '@/lib/statistics/find-root';

const solved = (f: (x: number) => number, lower: number, upper: number) => {
  let calls = 0;
  const counted = (x: number) => {
    calls++;
    return f(x);
  };
  return { found: findRoot(counted, lower, upper), calls };
};

describe('findRoot', () => {
  // Wallis's cubic, and test functions of Chandrupatla, Advances in Engineering Software 28 (1997)
  // 145-149, who needs 6 to 13 calls where bisection needs over 40.
  it.each<[string, (x: number) => number, number, number, number]>([
    ['x^3 - 2x - 5', (x) => x ** 3 - 2 * x - 5, 2, 3, 2.0945514815423265],
    ['1 - 1/x^2', (x) => 1 - 1 / x ** 2, 0.5, 1.51, 1],
    ['falling e^-x - x', (x) => Math.exp(-x) - x, 0, 5, 0.567143290409784],
    ['falling, ends turned', (x) => Math.exp(-x) - x, 5, 0, 0.567143290409784],
  ])('%s to the last figures, in few calls', (_, f, lower, upper, root) => {
    const { found, calls } = solved(f, lower, upper);
    expect(found).toBeCloseTo(root, 14);
    expect(calls).toBeLessThanOrEqual(16);
  });

  it('takes a root at either end, and refuses ends of one sign', () => {
    const calls: number[] = [];
    const noted = (root: number) => (x: number) => {
      calls.push(x);
      return x - root;
    };
    expect(findRoot(noted(1), 1, 3)).toBe(1);
    expect(findRoot(noted(3), 1, 3)).toBe(3);
    expect(calls).toEqual([3, 1, 3, 1]);
    expect(() => findRoot((x) => x - 1, 2, 3)).toThrow('no change of sign from 2 to 3');
    expect(() => findRoot((x) => x - 4, 2, 3)).toThrow(RangeError);
    expect(() => findRoot(() => Number.NaN, 2, 3)).toThrow(RangeError);
  });

  it('needs one halving and one interpolation where x is a parabola of y', () => {
    expect(solved((x) => 3 - x, 0, 16)).toEqual({ found: 3, calls: 4 });
    expect(solved((x) => Math.sqrt(x) - 2, 0, 9).calls).toBeLessThanOrEqual(5);
    expect(solved((x) => 3 - Math.sqrt(x), 4, 16).calls).toBeLessThanOrEqual(5);
  });

  // Chandrupatla's criterion with the middle point halfway: its height between the values of the ends
  // must lie between 1 - sqrt(1/2) and sqrt(1/2). The straight line goes to its root, 1.6.
  it.each([
    [-1.5, 4],
    [-4, 1.6],
    [-6.5, 4],
  ])('halves where the curve bends sharply: middle value %d', (middle, next) => {
    const values = new Map([
      [0, 1],
      [8, middle],
      [16, -9],
    ]);
    const asked: number[] = [];
    findRoot(
      (x) => {
        asked.push(x);
        return values.get(x) ?? 0;
      },
      0,
      16,
    );
    expect(asked.slice(0, 3)).toEqual([16, 0, 8]);
    expect(asked[3]).toBeCloseTo(next, 14);
  });

  it('of two neighbours about a jump gives the one nearer to nought', () => {
    for (const at of [1.3, Math.SQRT2, 2.2, 3.9]) {
      expect(findRoot((x) => (x < at ? -1 : 1000), 0, 5)).toBeLessThan(at);
      expect(findRoot((x) => (x < at ? -1000 : 1), 0, 5)).toBeGreaterThanOrEqual(at);
    }
  });

  it('halves no longer than neighbours lie apart, and 200 times at most', () => {
    // Half a gap of 5 is below two spacings of doubles near 1.41, 2^-51, after 53 halvings.
    expect(solved((x) => (x < Math.SQRT2 ? -1 : 1), 0, 5).calls).toBeLessThanOrEqual(2 + 54);
    // Doubles lie ever denser towards nought.
    const { found, calls } = solved((x) => (x < 0 ? -1 : 1), -1, 2);
    expect(calls).toBe(2 + 200);
    expect(Math.abs(found)).toBeLessThanOrEqual(3 * 2 ** -200);
  });

  it('is done with a root that lies within the spacing of doubles of an end', () => {
    expect(solved((x) => (x - 1) * 1e20 - 1e3, 1, 2)).toEqual({ found: 1, calls: 4 });
  });

  it('closes in on a jump', () => {
    expect(findRoot((x) => (x < Math.SQRT2 ? -1 : 1), 0, 5)).toBeCloseTo(Math.SQRT2, 14);
    expect(findRoot((x) => Math.cbrt(x), -1, 3)).toBeCloseTo(0, 14);
  });
});

it('solveIncreasing steps out either way', () => {
  for (const root of [-1000, -3, 0, 0.25, 4, 1e6])
    expect(solveIncreasing((x) => x - root, 0)).toBeCloseTo(root, 9);
});
