import { describe, expect, it } from 'vitest';
import { type Scenario, scenarios } from '@/lib/analysis/backtest/fleet-scenarios';
import {
  meanLossOf,
  simulateFleet,
  weeklyLoss,
  weeks,
} from '@/lib/analysis/backtest/simulate-fleet';
import { fromKilopascals } from '@/lib/measure';
import { seededRandom } from '@/lib/statistics/seeded-random';

const base = scenarios.A!;
const exponential = scenarios.B!;
/** Chance that always gives the same. */
const always = (uniform: number, normal = 0) => ({
  uniform: () => uniform,
  normal: () => normal,
  gamma: (shape: number) => shape,
});
const psi = (kilopascals: number) => fromKilopascals(kilopascals, 'psi');
/** Nobody errs, nothing is left out, every pump begins at 13 psi and wears in one way. */
const only = (mode: Partial<Pick<Scenario, 'even' | 'accelerating' | 'sudden'>>): Scenario => ({
  ...{ ...base, units: 60, even: 0, accelerating: 0, sudden: 0, jump: 0 },
  ...{ noise: 0, lowestNoise: 0, errorShare: 0, missed: 0, startLevel: 13, startDeviation: 0 },
  ...mode,
});

describe('mean loss', () => {
  it('of a stable pump is none', () => {
    expect(meanLossOf('stable', base, always(0.5))(6)).toBe(0);
  });

  it('of even wear is 3 psi in 4 years, in the middle of its log-normal spread', () => {
    const loss = meanLossOf('even', base, always(0.5));
    expect([0, 2, 4, 8].map(loss)).toEqual([0, 1.5, 3, 6]);
    expect(meanLossOf('even', base, always(0.5, 1))(4 * Math.exp(0.45))).toBeCloseTo(3, 12);
  });

  it('of a sudden failure comes all at once', () => {
    const loss = meanLossOf('sudden', base, always(0.5));
    expect([0, 3.24, 3.25, 9].map(loss)).toEqual([0, 0, 3, 3]);
  });

  it('by a power is 3 psi after its span, and no more than 12', () => {
    const loss = meanLossOf('accelerating', base, always(0.5));
    expect([0, 3.25].map(loss)).toEqual([0, 0]);
    expect(loss(3.25 + 1)).toBeCloseTo(3 * 0.5 ** 1.8, 12);
    expect(loss(3.25 + 2)).toBeCloseTo(3, 12);
    expect(loss(3.25 + 20)).toBe(12);
    const slower = meanLossOf('accelerating', base, always(0.5, 1));
    expect(slower(3.25 + 2 * Math.exp(0.3))).toBeCloseTo(3, 12);
  });

  it('that grows exponentially is 3 psi after its span, and no more than 12', () => {
    const loss = meanLossOf('accelerating', exponential, always(0.5));
    expect([0, 3.25].map(loss)).toEqual([0, 0]);
    const half = (3 * (Math.exp(1.25) - 1)) / (Math.exp(2.5) - 1);
    expect(loss(3.25 + 1.3)).toBeCloseTo(half, 12);
    expect(loss(3.25 + 2.6)).toBeCloseTo(3, 12);
    expect(loss(3.25 + 20)).toBe(12);
  });
});

describe('loss by the week', () => {
  const year = 365.25 / 7;

  it('without jumps is the mean loss', () => {
    const loss = weeklyLoss((years) => years ** 2, 0, always(0.5));
    expect(loss).toHaveLength(weeks + 1);
    expect(loss[0]).toBe(0);
    for (const week of [1, 52, weeks]) expect(loss[week]).toBeCloseTo((week / year) ** 2, 9);
  });

  it('in jumps is a gamma process: its mean is the mean loss, its variance a jump times that', () => {
    const chance = seededRandom(3);
    const jump = 0.15;
    const at = 260;
    const ends = Array.from({ length: 400 }, () => weeklyLoss((years) => years, jump, chance)[at]!);
    const mean = ends.reduce((sum, end) => sum + end, 0) / ends.length;
    const variance = ends.reduce((sum, end) => sum + (end - mean) ** 2, 0) / (ends.length - 1);
    const wanted = at / year;
    // Four standard errors of a mean and of a variance of 400.
    expect(Math.abs(mean - wanted)).toBeLessThan(4 * Math.sqrt((jump * wanted) / 400));
    expect(Math.abs(variance / (jump * wanted) - 1)).toBeLessThan(4 * Math.sqrt(2 / 399));
  });
});

describe('a simulated fleet', () => {
  it('is the same for the same seed, and another for another', () => {
    const small = { ...base, units: 5 };
    expect(simulateFleet(small, 1)).toEqual(simulateFleet(small, 1));
    expect(simulateFleet(small, 1)).not.toEqual(simulateFleet(small, 2));
  });

  it('of stable pumps reads about 13 psi for six and a half years, and follows it with lowest', () => {
    const fleet = simulateFleet(only({}), 1);
    expect(fleet).toHaveLength(60);
    const days = fleet.flatMap(({ points }) =>
      points.slice(1).map(({ day }, k) => day - points[k]!.day),
    );
    const interval = days.reduce((sum, one) => sum + one, 0) / days.length;
    expect(Math.abs(interval - base.interval)).toBeLessThan(2);
    for (const { points, isStable, isSudden, crossing, crossedInService, isInError } of fleet) {
      expect({ isStable, isSudden, crossing, crossedInService }).toEqual({
        ...{ isStable: true, isSudden: false, crossing: null, crossedInService: false },
      });
      expect(isInError).toEqual(points.map(() => false));
      expect(points[0]!.day).toBeLessThanOrEqual(90);
      expect(points.at(-1)!.day).toBeGreaterThan(6 * 365);
      for (const { idleSle, lowestSle } of points) {
        // A gauge in 0.5 inHg rounds by 0.12 psi; a pump sways by some hundredths.
        expect(Math.abs(psi(idleSle) - 13)).toBeLessThan(0.26);
        expect(Math.abs(psi(lowestSle!) - (1.7 + 0.56 * 13))).toBeLessThan(0.21);
      }
    }
  });

  it('of evenly wearing pumps lies above 10 psi before the day of crossing, and below after', () => {
    const worn = simulateFleet(only({ even: 1 }), 1).filter(({ crossing }) => crossing !== null);
    expect(worn.length).toBeGreaterThan(60);
    for (const { points, crossing, isStable } of worn) {
      expect(isStable).toBe(false);
      for (const { day, idleSle } of points) {
        if (day < crossing!) expect(psi(idleSle)).toBeGreaterThan(10 - 0.13);
        else expect(psi(idleSle)).toBeLessThan(10 + 0.13);
      }
      // A worn pump is found and replaced within 300 days.
      expect(points.at(-1)!.day).toBeLessThanOrEqual(crossing! + 300);
    }
    const seen = worn.filter(({ crossedInService }) => crossedInService);
    expect(seen.every(({ points, crossing }) => points.at(-1)!.day >= crossing!)).toBe(true);
    expect(seen.length).toBeGreaterThan(worn.length / 2);
  });

  it('of sudden failures shows them as such', () => {
    const fleet = simulateFleet(only({ sudden: 1 }), 1);
    expect(fleet.every(({ isSudden, isStable }) => isSudden && !isStable)).toBe(true);
  });

  it('has as many errors and gaps as its scenario says', () => {
    const slack = { ...only({}), errorShare: 0.3, missed: 0.4 };
    const [kept, whole] = [slack, { ...slack, missed: 0 }].map((one) => simulateFleet(one, 1));
    const errors = kept!.flatMap(({ isInError }) => isInError);
    expect(errors.filter(Boolean).length / errors.length).toBeCloseTo(0.3, 1);
    const read = (fleet: typeof kept) => fleet!.reduce((sum, { points }) => sum + points.length, 0);
    expect(read(kept) / read(whole)).toBeCloseTo(0.6, 1);
  });

  it('errs by a wrong unit, a slipped digit or a cold engine', () => {
    const errors = simulateFleet({ ...only({}), errorShare: 1 }, 1).flatMap(({ points }) =>
      points.map(({ idleSle }) => psi(idleSle)),
    );
    const share = (from: number, to: number) =>
      errors.filter((idle) => idle > from && idle < to).length / errors.length;
    // A quarter each of wrong units (40% of gauges in inHg) and slips (-3 to 3), the rest cold.
    expect(share(26, 27)).toBeCloseTo(0.25 * 0.6, 1);
    expect(share(6, 7)).toBeCloseTo(0.25 * 0.4, 1);
    expect(share(13.5, 16.5)).toBeCloseTo(0.25 / 2, 1);
    expect(share(10.7, 12.4)).toBeCloseTo(0.5 + 0.25 / 3, 1);
  });
});
