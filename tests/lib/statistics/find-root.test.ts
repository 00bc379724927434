import { describe, expect, it } from 'vitest';
import { findRoot, solveIncreasing } from '@/lib/statistics/find-root';

describe('findRoot', () => {
  // Wallis's cubic, and test functions of Chandrupatla, Advances in Engineering Software 28 (1997)
  // 145-149, who needs 6 to 13 calls where bisection needs over 40.
  it.each<[string, (x: number) => number, number, number, number]>([
    ['x^3 - 2x - 5', (x) => x ** 3 - 2 * x - 5, 2, 3, 2.0945514815423265],
    ['1 - 1/x^2', (x) => 1 - 1 / x ** 2, 0.5, 1.51, 1],
    ['falling e^-x - x', (x) => Math.exp(-x) - x, 0, 5, 0.567143290409784],
    ['falling, ends turned', (x) => Math.exp(-x) - x, 5, 0, 0.567143290409784],
  ])('%s to the last figures, in few calls', (_, f, lower, upper, root) => {
    let calls = 0;
    const found = findRoot(
      (x) => {
        calls++;
        return f(x);
      },
      lower,
      upper,
    );
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

  it('closes in on a jump', () => {
    expect(findRoot((x) => (x < Math.SQRT2 ? -1 : 1), 0, 5)).toBeCloseTo(Math.SQRT2, 14);
    expect(findRoot((x) => Math.cbrt(x), -1, 3)).toBeCloseTo(0, 14);
  });
});

it('solveIncreasing steps out either way', () => {
  for (const root of [-1000, -3, 0, 0.25, 4, 1e6])
    expect(solveIncreasing((x) => x - root, 0)).toBeCloseTo(root, 9);
});
