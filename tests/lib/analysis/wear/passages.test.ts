import { describe, expect, it } from 'vitest';
import {
  belowLimit,
  crossedBy,
  crossedWithin,
  crossingQuantile,
  horizonDays,
} from '@/lib/analysis/wear/below-limit';
import { firstPassages } from '@/lib/analysis/wear/first-passage';
import { levelForecast } from '@/lib/analysis/wear/level-forecast';
import {
  bendCount,
  bendPowers,
  onsetYears,
  smoothCount,
  spanYears,
} from '@/lib/analysis/wear/wear-curves';
import { levelOf, type WearPosterior } from '@/lib/analysis/wear/wear-posterior';
import { toKilopascals } from '@/lib/measure';
import { normalBelowPlainly, plainCurves, widest } from './plain-library';

/** The smooth curve that begins at `onset` and has lost 3 psi after `span` years. */
const curveOf = (onset: number, span: number, power: number) =>
  onsetYears.indexOf(onset) * bendCount +
  spanYears.indexOf(span) * bendPowers.length +
  bendPowers.indexOf(power);

type Part = readonly [curve: number, weight: number, level: number, variance: number];
const posteriorOf = (years: number, wearNoise: number, ...parts: Part[]): WearPosterior => ({
  years,
  wearNoise,
  curve: Int32Array.from(parts, ([curve]) => curve),
  weight: Float64Array.from(parts, ([, weight]) => weight),
  level: Float64Array.from(parts, ([, , level]) => level),
  variance: Float64Array.from(parts, ([, , , variance]) => variance),
});

const mixture = posteriorOf(
  1.3,
  0.06,
  [curveOf(-1, 2.5, 1), 0.4, 13.2, 0.03],
  [curveOf(0.5, 4, 2), 0.3, 12.9, 0.05],
  [smoothCount + 4 * 20 + 2, 0.2, 13, 0.04],
  [curveOf(16, 20, 4), 0.1, 12.7, 0.02],
);

/** F(h) as docs/method.md states it. */
const chanceBelow = (posterior: WearPosterior, limit: number, days: number) =>
  [...posterior.curve].reduce((sum, curve, k) => {
    const D = plainCurves[curve]!.loss(posterior.years + days / 365.25);
    const spread = posterior.variance[k]! + posterior.wearNoise * Math.min(D, 6);
    const x = (limit + D - posterior.level[k]!) / Math.sqrt(spread);
    return sum + posterior.weight[k]! * normalBelowPlainly(x);
  }, 0);

/** 3 psi a year from the first visit on, all but certain: below 13 - 3 t from t on. */
const certain = posteriorOf(0, 0, [curveOf(0, 1, 1), 1, 13, 1e-8]);
const lossAfter = (days: number) => (3 * days) / 365.25;

describe('belowLimit and crossedBy', () => {
  it.each([12.8, 11, 10, 5])('are the mixture of normals, limit %f psi', (limit) => {
    const [crossed] = crossedBy(mixture, [limit]);
    const expected = horizonDays.map((days) => chanceBelow(mixture, limit, days));
    const below = horizonDays.map((days) => belowLimit(mixture, limit, days));
    expect(widest(below, expected)).toBeLessThan(1e-8);
    const highest = expected.map((_, k) => Math.max(...expected.slice(0, k + 1)));
    expect(widest(crossed!, highest)).toBeLessThan(1e-8);
  });

  it('a limit once met stays met, though doubt grows', () => {
    const doubtful = posteriorOf(0, 5, [curveOf(0.25, 20, 1), 1, 10, 1e-4]);
    expect(belowLimit(doubtful, 10.02, 365)).toBeLessThan(0.7);
    const [crossed] = crossedBy(doubtful, [10.02]);
    // Phi(2), Abramowitz and Stegun (1964), table 26.1.
    expect(crossed!.every((share) => Math.abs(share - 0.97725) < 1e-4)).toBe(true);
  });

  it('answers each limit for itself', () => {
    const [high, low] = crossedBy(certain, [13 - lossAfter(100), 13 - lossAfter(700)]);
    expect([...high!]).toEqual(horizonDays.map((days) => (days > 100 ? 1 : 0)));
    expect([...low!]).toEqual(horizonDays.map((days) => (days > 700 ? 1 : 0)));
  });
});

describe('between horizons', () => {
  const crossed = Float64Array.from(horizonDays, (_, k) => Math.min(k * 0.1, 0.9));

  it('the quantile lies on the line between', () => {
    expect(crossingQuantile(crossed, 0)).toBe(0.01);
    expect(crossingQuantile(crossed, 0.15)).toBeCloseTo(45, 9);
    expect(crossingQuantile(crossed, 0.2)).toBeCloseTo(60, 9);
    expect(crossingQuantile(crossed, 0.85)).toBeCloseTo(292.5, 9);
    expect(crossingQuantile(crossed, 0.91)).toBeNull();
  });

  it('the chance lies on it too, and is held at both ends', () => {
    const early = Float64Array.from(horizonDays, (_, k) => 0.05 + k * 0.03);
    expect(crossedWithin(early, -30)).toBe(0.05);
    expect(crossedWithin(early, 0.01)).toBe(0.05);
    expect(crossedWithin(early, 30)).toBeCloseTo(0.08, 12);
    expect(crossedWithin(early, 45)).toBeCloseTo(0.095, 12);
    expect(crossedWithin(early, 3650)).toBeCloseTo(0.83, 12);
    expect(crossedWithin(early, 9999)).toBeCloseTo(0.83, 12);
  });
});

describe('firstPassages', () => {
  const newest = 20_000;
  const question = { asOf: newest + 10, nextReadingOn: newest + 1010, horizonDays: 1030 };
  // Lost after 1,040 days for certain: between the horizons of 980 and 1,100 days, by line.
  const limit = 13 - lossAfter(1040);

  it('dates a known drift', () => {
    expect(firstPassages(certain, newest, 4, [limit], question)).toEqual([
      {
        probabilityWithin1Year: 0,
        probabilityBeforeNextReading: 0.25,
        probabilityWithinHorizon: 0.5,
        earliest95: newest + 983,
        earliest90: newest + 986,
        earliest80: newest + 992,
        median: newest + 1040,
        latest80: newest + 1088,
        latest90: newest + 1094,
        latest95: newest + 1097,
        whyNone: null,
      },
    ]);
  });

  it('gives chances but no dates below four visits, and none without a next reading', () => {
    const [passage] = firstPassages(certain, newest, 3, [limit], {
      ...question,
      nextReadingOn: null,
    });
    expect(passage).toMatchObject({
      probabilityBeforeNextReading: null,
      probabilityWithinHorizon: 0.5,
      earliest95: null,
      median: null,
      latest95: null,
      whyNone: 'too few',
    });
  });

  it('says when it is beyond ten years, and that there is no reading', () => {
    const never = posteriorOf(1, 0, [smoothCount, 1, 13, 1e-8]);
    expect(firstPassages(never, newest, 9, [10], question)).toMatchObject([
      { median: null, probabilityWithin1Year: 0, whyNone: 'beyond 10 years' },
    ]);
    const none = firstPassages(null, null, 0, [10, 9], question);
    expect(none).toHaveLength(2);
    expect(none[1]).toMatchObject({ probabilityWithin1Year: null, whyNone: 'no reading' });
  });
});

describe('levels ahead', () => {
  it('mean and deviation are those of the mixture', () => {
    for (const ahead of [0, 0.7, 4]) {
      const parts = [...mixture.curve].map((curve, k) => {
        const D = plainCurves[curve]!.loss(mixture.years + ahead);
        return {
          q: mixture.weight[k]!,
          at: mixture.level[k]! - D,
          spread: mixture.variance[k]! + 0.06 * Math.min(D, 6),
        };
      });
      const expected = parts.reduce((sum, { q, at }) => sum + q * at, 0);
      const variance = parts.reduce(
        (sum, { q, at, spread }) => sum + q * (spread + (at - expected) ** 2),
        0,
      );
      const { mean, deviation } = levelOf(mixture, ahead);
      expect(mean).toBeCloseTo(expected, 10);
      expect(deviation).toBeCloseTo(Math.sqrt(variance), 8);
    }
  });

  it('each forecast quantile has its share of the mixture below it', () => {
    const [, point] = levelForecast(mixture, 20_000, [20_000, 20_300]);
    expect(point!.day).toBe(20_300);
    const psi = toKilopascals(1, 'psi');
    const shares = { low95: 0.025, low80: 0.1, median: 0.5, high80: 0.9, high95: 0.975 } as const;
    for (const [name, share] of Object.entries(shares) as [keyof typeof shares, number][])
      expect(chanceBelow(mixture, point![name] / psi, 300)).toBeCloseTo(share, 6);
  });
});
