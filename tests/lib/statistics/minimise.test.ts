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

  it('ends after 20 starts of 400 steps a variable, with the lowest point it asked', () => {
    const points: (readonly number[])[] = [];
    // Each point mirrored is lower than all before, each point beyond it is not.
    const end = minimise((point) => (points.push(point) % 2 === 0 ? -points.length : 0), [0]);
    expect(end).toEqual(points.at(-2));
    // The start, then each time two corners and, a step, the point mirrored and the one beyond it.
    expect(points).toHaveLength(1 + 20 * (2 + 2 * 400));
    let calls = 0;
    minimise(() => -calls++, [0, 0]);
    expect(calls).toBe(1 + 20 * (3 + 2 * 800));
  });

  const callsFor = (f: (point: readonly number[]) => number, start: readonly number[]) => {
    let calls = 0;
    const found = minimise((point) => {
      calls++;
      return f(point);
    }, start);
    return { calls, found };
  };
  const bowl = ([x, y]: readonly number[]) => (x! - 5) ** 2 + 3 * (y! - 7) ** 2;

  it.each([-1e6, -5, 5, 1e6])(
    'looks no closer than the figures of a bottom of %d allow',
    (bottom) => {
      const level = callsFor(bowl, [2, 3]);
      const shifted = callsFor((point) => bottom + bowl(point), [2, 3]);
      expect(shifted.calls).toBeLessThanOrEqual(level.calls);
      // A change of 1e-14 of the bottom is the square of a distance.
      const reach = 10 * Math.sqrt(1e-14 * Math.abs(bottom));
      for (const [i, at] of [5, 7].entries())
        expect(Math.abs(shifted.found[i]! - at)).toBeLessThan(reach);
    },
  );

  it('steps in proportion to a far start', () => {
    const near = callsFor(bowl, [2, 3]);
    const far = callsFor(
      (point) => bowl(point.map((value) => value / 2 ** 20)),
      [2 ** 21, 3 * 2 ** 20],
    );
    expect(far.calls).toBe(near.calls);
    expect(far.found).toEqual(near.found.map((value) => value * 2 ** 20));
  });
});

// Worked by hand from the corners (10, 20), (11, 20) and (10, 22) with values 1, 2 and 3.
describe('a step of Nelder and Mead', () => {
  /** Points asked one after another where the first have these values and all others are far worse. */
  const pointsAsked = (values: readonly number[], start: readonly number[]) => {
    const points: string[] = [];
    minimise((point) => {
      points.push(point.join(' '));
      return values[points.length - 1] ?? 1e9;
    }, start);
    return points;
  };

  it('begins with corners a tenth further in each coordinate, of one at least', () => {
    const corners = pointsAsked([], [10, -0.5]).slice(1, 4);
    expect(corners).toEqual(['10 -0.5', '11 -0.5', '10 -0.4']);
  });

  it.each<[string, number[], string[]]>([
    ['best: tries as far again, better yet', [0, -1], ['11 18', '11.5 16', '10.5 16']],
    ['best: tries as far again, no better', [0, 0], ['11 18', '11.5 16', '10 18']],
    ['as good as the best: taken', [1], ['11 18', '10 18']],
    ['as good as the second worst: half as far out', [2, 0.5], ['11 18', '10.75 19', '9.75 19']],
    ['as bad as the worst: half as far in', [3, 0.5], ['11 18', '10.25 21', '9.25 21']],
    ['half out as bad: halves all', [2.5, 2.5], ['11 18', '10.75 19', '10.5 20', '10 21']],
    ['half in as bad as the worst: halves all', [4, 3], ['11 18', '10.25 21', '10.5 20', '10 21']],
  ])('mirrored point %s', (_, values, points) => {
    const asked = pointsAsked([1, 1, 2, 3, ...values], [10, 20]);
    expect(asked.slice(4, 4 + points.length)).toEqual(points);
  });
});
