import { describe, expect, it } from 'vitest';
import { fleetRate, unitRate } from '@/lib/analysis/belt-rate';
import { cleanOdometers } from '@/lib/analysis/odometer';
import { toKilometres } from '@/lib/measure';

const entriesOf = (points: readonly (readonly [number, number])[]) =>
  points.map(([day, odometer]) => ({ readingId: `${day}-${odometer}`, day, odometer }));
const rateOf = (
  points: readonly (readonly [number, number])[],
  fleet: number | null = null,
  asOf = points.at(-1)?.[0] ?? 0,
) =>
  unitRate(
    entriesOf(points).map((entry) => ({ ...entry, distance: entry.odometer })),
    fleet,
    asOf,
  );

describe('the rate of a unit', () => {
  it('holds one wild interval within three times the middle one, in whatever order they come', () => {
    // 10, 1000 and 12 km a day over ten days each: the middle is 12, so 1000 counts as 36. The oldest
    // weighs half as much as one 120 days younger.
    const weights = [25, 15, 5].map((age) => 10 * 2 ** (-age / 120));
    const counted = (rates: readonly number[]) =>
      rates.reduce((sum, rate, k) => sum + rate * weights[k]!, 0) /
      weights.reduce((sum, weight) => sum + weight, 0);
    const of = (rates: readonly number[]) =>
      rateOf(
        [0, ...rates].map((_, k) => [
          1000 + 10 * k,
          rates.slice(0, k).reduce((sum, rate) => sum + 10 * rate, 0),
        ]),
      );
    expect(of([10, 1000, 12])).toBeCloseTo(counted([10, 36, 12]), 9);
    expect(of([1000, 12, 10])).toBeCloseTo(counted([36, 12, 10]), 9);
    expect(of([12, 10, 1000])).toBeCloseTo(counted([12, 10, 36]), 9);
  });

  it('leans on the fleet by the whole history, not by its first interval', () => {
    const points = [
      [1000, 0],
      [1020, 1000],
      [1090, 4500],
    ] as const;
    expect(rateOf(points, 500)).toBeCloseTo(50, 9);
  });

  it('is distance over days, or the fleet’s without an interval', () => {
    expect(
      rateOf([
        [1000, 500],
        [1090, 5000],
      ]),
    ).toBeCloseTo(50, 10);
    expect(rateOf([[1000, 500]], 44)).toBe(44);
    expect(
      rateOf(
        [
          [1000, 500],
          [1000, 900],
        ],
        44,
      ),
    ).toBe(44);
    expect(
      rateOf([
        [1000, 500],
        [1000, 500],
      ]),
    ).toBeNull();
    expect(
      rateOf(
        [
          [1000, 500],
          [1090, 500],
        ],
        44,
      ),
    ).toBe(44);
  });

  it('weighs an interval by its days, halved every 120 days of age', () => {
    // Middles 120 days apart, as many days each: weights 1 and 2.
    expect(
      rateOf([
        [1000, 0],
        [1120, 4800],
        [1240, 12_000],
      ]),
    ).toBeCloseTo((40 + 2 * 60) / 3, 10);
    // Three times the days at about the same age.
    expect(
      rateOf([
        [1000, 0],
        [1002, 80],
        [1008, 440],
      ]),
    ).toBeCloseTo(55, 0);
    // A later day ages all alike.
    expect(
      rateOf(
        [
          [1000, 0],
          [1120, 4800],
          [1240, 12_000],
        ],
        null,
        5000,
      ),
    ).toBeCloseTo(160 / 3, 8);
  });

  it('holds an interval within a third and three times the middle one', () => {
    const far = rateOf([
      [0, 0],
      [10, 400],
      [20, 800],
      [30, 10_800],
    ]);
    expect(far).toBeCloseTo(
      rateOf([
        [0, 0],
        [10, 400],
        [20, 800],
        [30, 2000],
      ])!,
      10,
    );
    const idle = rateOf([
      [0, 0],
      [10, 300],
      [20, 600],
      [30, 600],
    ]);
    expect(idle).toBeCloseTo(
      rateOf([
        [0, 0],
        [10, 300],
        [20, 600],
        [30, 700],
      ])!,
      10,
    );
  });

  it('borrows from the fleet in proportion under 45 days of history', () => {
    expect(
      rateOf(
        [
          [1000, 0],
          [1015, 900],
        ],
        30,
      ),
    ).toBeCloseTo(60 / 3 + (30 * 2) / 3, 10);
    expect(
      rateOf(
        [
          [1000, 0],
          [1045, 2700],
        ],
        30,
      ),
    ).toBeCloseTo(60, 10);
    expect(
      rateOf([
        [1000, 0],
        [1015, 900],
      ]),
    ).toBeCloseTo(60, 10);
  });
});

it('the rate of a fleet is the middle of its units with 45 days of history', () => {
  const steady = (rate: number, days: number, from = 1000) =>
    entriesOf([
      [from, 5000],
      [from + days, 5000 + rate * days],
    ]);
  expect(fleetRate([steady(30, 45), steady(50, 90), steady(90, 90)], 1090)).toBeCloseTo(50, 10);
  expect(fleetRate([steady(30, 44), steady(50, 90), steady(90, 90)], 1090)).toBeCloseTo(70, 10);
  expect(fleetRate([steady(30, 44), []], 1090)).toBeNull();
  expect(fleetRate([steady(0, 90), steady(40, 90)], 1090)).toBeCloseTo(40, 10);
});

describe('steps between odometers', () => {
  const miles = (value: number) => toKilometres(value, 'mi');
  const kept = (...points: (readonly [number, number])[]) =>
    cleanOdometers(entriesOf(points.map(([day, odometer]) => [day, miles(odometer)] as const)))
      .kept;

  it('run at 400 miles a day at the most, a day at the least', () => {
    expect(kept([0, 0], [10, 4000])).toHaveLength(2);
    expect(kept([0, 0], [10, 4001])).toHaveLength(1);
    expect(kept([5, 1000], [5, 1400])).toHaveLength(2);
    expect(kept([5, 1000], [5, 1401])).toHaveLength(1);
    expect(kept([0, 500], [90, 500])).toHaveLength(2);
    expect(kept([0, 96_001], [10, 0])).toHaveLength(2);
    expect(kept([0, 95_990], [10, 0])).toHaveLength(1);
  });

  it('are taken in order of day, whatever order they come in', () => {
    const ordered = kept([0, 1000], [90, 5000], [180, 9000], [270, 13_000]);
    expect(ordered).toHaveLength(4);
    expect(kept([270, 13_000], [0, 1000], [180, 9000], [90, 5000])).toEqual(ordered);
  });

  it('go with the unit’s usual rate where two entries exclude each other', () => {
    const usual = [
      [0, 1000],
      [90, 1900],
      [180, 2800],
      [270, 3700],
    ] as const;
    const days = (points: typeof usual, ...more: (readonly [number, number])[]) =>
      kept(...points, ...more).map(({ odometer }) => Math.round(odometer / miles(1)));
    // Both can have been driven since; 10 miles a day is what this unit drives, 200 is not.
    expect(days(usual, [360, 21_700], [361, 4610])).toEqual([1000, 1900, 2800, 3700, 4610]);
    expect(days(usual, [360, 4600], [361, 4500])).toEqual([1000, 1900, 2800, 3700, 4600]);
  });
});
