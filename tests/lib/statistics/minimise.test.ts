import { describe, expect, it } from 'vitest';
import { minimise } from '@/lib/statistics/minimise';

// Test functions of More, Garbow and Hillstrom, ACM Transactions on Mathematical Software 7 (1981),
// with their standard starts and known least points.
const functions: Record<string, [(x: readonly number[]) => number, number[], number[]]> = {
  Rosenbrock: [([a, b]) => 100 * (b! - a! ** 2) ** 2 + (1 - a!) ** 2, [-1.2, 1], [1, 1]],
  Beale: [
    ([a, b]) =>
      [1.5, 2.25, 2.625].reduce((sum, y, i) => sum + (y - a! * (1 - b! ** (i + 1))) ** 2, 0),
    [1, 1],
    [3, 0.5],
  ],
  'helical valley': [
    ([a, b, c]) =>
      100 * (c! - (10 * Math.atan2(b!, a!)) / (2 * Math.PI)) ** 2 +
      100 * (Math.hypot(a!, b!) - 1) ** 2 +
      c! ** 2,
    [-1, 0, 0],
    [1, 0, 0],
  ],
};

describe('minimise', () => {
  it.each(Object.entries(functions))('finds the bottom of %s', (_, [f, start, bottom]) => {
    let calls = 0;
    const found = minimise((x) => {
      calls++;
      return f(x);
    }, start);
    for (const [i, value] of bottom.entries()) expect(found[i]).toBeCloseTo(value, 6);
    // Nelder and Mead found Rosenbrock's in some 150 calls; restarts look twice.
    expect(calls).toBeLessThan(1200);
  });

  it('starts again where a simplex has collapsed short of the bottom', () => {
    // McKinnon, SIAM Journal on Optimization 9 (1998) 148-158, from the bend on his axis.
    const bent = ([x, y]: readonly number[]) =>
      (x! <= 0 ? 360 * x! ** 2 : 6 * x! ** 2) + y! + y! ** 2;
    const [x, y] = minimise(bent, [0, 1]);
    expect(x).toBeCloseTo(0, 6);
    expect(y).toBeCloseTo(-0.5, 6);
  });

  it('stays where all is level', () => {
    expect(minimise(() => 7, [1, 2])).toEqual([1, 2]);
  });
});
