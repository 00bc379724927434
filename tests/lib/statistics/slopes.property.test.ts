import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  huberRegression,
  mannKendall,
  medianAbsoluteDeviation,
  multipleRegression,
  ordinaryLeastSquares,
  pettitt,
  theilSen,
  trend,
} from '@/lib/statistics';

// Whole tenths and whole days, as a bay gauge and a calendar give them: ties are common.
const tenths = fc.integer({ min: -300, max: 300 }).map((value) => value / 10);
const history = fc
  .array(fc.tuple(fc.integer({ min: 0, max: 2000 }), tenths), { minLength: 2, maxLength: 45 })
  .filter((points) => new Set(points.map(([x]) => x)).size > 1);
const columns = (points: readonly (readonly [number, number])[]) => ({
  x: points.map(([x]) => x),
  y: points.map(([, y]) => y),
});
const near = (actual: number | null, expected: number, size = 1) =>
  expect(Math.abs(actual! - expected)).toBeLessThanOrEqual(1e-9 * (Math.abs(expected) + size));

describe('Theil-Sen', () => {
  it('is the sorted pair slopes at the ranks of the method', () => {
    fc.assert(
      fc.property(history, fc.constantFrom(0.5, 0.8, 0.9, 0.95, 0.99), (points, confidence) => {
        const { x, y } = columns(points);
        const slopes = x
          .flatMap((xi, i) => x.slice(0, i).map((xj, j) => (y[i]! - y[j]!) / (xi - xj) + 0))
          .filter(Number.isFinite)
          .sort((a, b) => a - b);
        const line = theilSen(x, y, confidence);
        expect(line.slope).toBe(
          (slopes[(slopes.length - 1) >> 1]! + slopes[slopes.length >> 1]!) / 2 + 0,
        );
        expect(slopes).toContain(line.lower);
        expect(slopes).toContain(line.upper);
        expect(line.lower!).toBeLessThanOrEqual(line.slope!);
        expect(line.upper!).toBeGreaterThanOrEqual(line.slope!);
        expect(trend(x, y, confidence)).toEqual({ line, test: mannKendall(y) });
      }),
      { numRuns: 500 },
    );
  });

  it('follows shifts and scales of both axes', () => {
    fc.assert(
      fc.property(history, tenths, fc.integer({ min: 1, max: 20 }), (points, shift, scale) => {
        const { x, y } = columns(points);
        const line = theilSen(x, y, 0.9);
        const moved = theilSen(
          x.map((value) => value + 7),
          y.map((value) => scale * value + shift),
          0.9,
        );
        near(moved.slope, scale * line.slope!, 600);
        near(moved.intercept, scale * line.intercept! + shift - 7 * moved.slope!, 1e5);
        const stretched = theilSen(
          x.map((value) => value * 8),
          y,
          0.9,
        );
        near(stretched.lower, line.lower! / 8);
        near(stretched.upper, line.upper! / 8);
      }),
    );
  });

  it('does not depend on the order of points, and turns over with y', () => {
    fc.assert(
      fc.property(history, (points) => {
        const { x, y } = columns(points);
        const line = theilSen(x, y, 0.9);
        expect(theilSen(x.toReversed(), y.toReversed(), 0.9)).toEqual(line);
        const turned = theilSen(
          x,
          y.map((value) => -value),
          0.9,
        );
        near(turned.slope, -line.slope!);
      }),
    );
  });

  it('survives steep pairs beside an ordinary line', () => {
    const x = [...Array.from({ length: 30 }, (_, i) => i), 29 + 1e-12];
    const y = [...Array.from({ length: 30 }, (_, i) => 13 - 0.1 * i + (i % 3) / 10), 40];
    near(theilSen(x, y, 0.9).slope, -0.1, 0.02);
  });
});

describe('Mann-Kendall', () => {
  const values = fc.array(tenths, { minLength: 2, maxLength: 130 });

  it('counts rising less falling pairs', () => {
    fc.assert(
      fc.property(values, (y) => {
        let s = 0;
        for (const [j, later] of y.entries()) {
          for (const earlier of y.slice(0, j)) s += Math.sign(later - earlier);
        }
        expect(mannKendall(y).s! + 0).toBe(s + 0);
      }),
    );
  });

  it('is unmoved by any rising transformation, reversed by time', () => {
    fc.assert(
      fc.property(values, (y) => {
        const test = mannKendall(y);
        expect(mannKendall(y.map((value) => value ** 3))).toEqual(test);
        const reversed = mannKendall(y.toReversed());
        expect(reversed.s! + test.s!).toBe(0);
        expect(reversed.p).toBe(test.p);
        expect(test.p!).toBeGreaterThanOrEqual(0);
        expect(test.p!).toBeLessThanOrEqual(1);
      }),
    );
  });
});

describe('least squares, Huber, spread and change point', () => {
  it('keep their figures far from nought', () => {
    const x = [3, 5, 6, 8, 11, 12, 19];
    const y = [7, -2, 4, 9, 1, 12, 40];
    const far = (values: readonly number[]) => values.map((value) => value + 1e7);
    for (const lineOf of [ordinaryLeastSquares, huberRegression]) {
      const expected = lineOf(x, y).slope!;
      expect(Math.abs(lineOf(far(x), far(y)).slope! - expected)).toBeLessThan(1e-7);
    }
    const { slopeError, residualError } = ordinaryLeastSquares(x, y);
    const moved = ordinaryLeastSquares(far(x), far(y));
    expect(moved.slopeError).toBeCloseTo(slopeError!, 7);
    expect(moved.residualError).toBeCloseTo(residualError!, 7);
    const several = multipleRegression([x, y], y.toReversed());
    const away = multipleRegression([far(x), far(y)], far(y.toReversed()));
    for (const j of [1, 2]) {
      expect(away.coefficients![j]).toBeCloseTo(several.coefficients![j]!, 7);
      expect(away.errors![j]).toBeCloseTo(several.errors![j]!, 7);
    }
  });

  it('follow shifts and scales', () => {
    fc.assert(
      fc.property(history, tenths, (points, shift) => {
        const { x, y } = columns(points);
        const moved = y.map((value) => 2 * value + shift);
        near(ordinaryLeastSquares(x, moved).slope, 2 * ordinaryLeastSquares(x, y).slope!, 600);
        near(medianAbsoluteDeviation(moved), 2 * medianAbsoluteDeviation(y)!, 600);
        const before = pettitt(y);
        const after = pettitt(y.map((value) => value * 4));
        expect(after).toEqual(before);
      }),
    );
  });

  it('Huber stays finite whatever lies where', () => {
    fc.assert(
      fc.property(history, (points) => {
        const { x, y } = columns(points);
        const line = huberRegression(x, y);
        expect(Number.isFinite(line.slope)).toBe(true);
        expect(Number.isFinite(line.intercept)).toBe(true);
      }),
    );
  });
});
