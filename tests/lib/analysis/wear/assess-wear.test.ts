import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { defaultFleetPrior } from '@/lib/analysis/fleet-prior';
import {
  assessWear,
  startWear,
  updateWear,
  type WearPoint,
  wearOutcomeOf,
} from '@/lib/analysis/wear';
import { toKilopascals } from '@/lib/measure';

const limit = toKilopascals(10, 'psi');
const question = { asOf: 19_000, nextReadingOn: 19_091, horizonDays: 91 };
const pointsOf = (levels: readonly number[], interval = 91): WearPoint[] =>
  levels.map((psi, k) => ({ day: 18_000 + k * interval, idleSle: toKilopascals(psi, 'psi') }));
const shifted = (points: readonly WearPoint[], kPa: number): WearPoint[] =>
  points.map((point) => ({ ...point, idleSle: point.idleSle + kPa }));

const segment = fc
  .array(
    fc.record({
      gap: fc.integer({ min: 1, max: 400 }),
      psi: fc.double({ min: 0, max: 14.6, noNaN: true }),
    }),
    {
      minLength: 1,
      maxLength: 12,
    },
  )
  .map((visits) => {
    let day = 17_000;
    return visits.map(({ gap, psi }): WearPoint => {
      day += gap;
      return { day, idleSle: toKilopascals(psi, 'psi') };
    });
  });

describe('thin data', () => {
  it('no reading: every figure is null and the passage says so', () => {
    const outcome = assessWear([], defaultFleetPrior);
    expect(outcome).toMatchObject({ count: 0, score: null, probabilityWithin1Year: null });
    expect(outcome).toMatchObject({ levelNow: null, levelDeviation: null, unconfirmed: false });
    expect(outcome.passage(limit, question)).toMatchObject({ median: null, whyNone: 'no reading' });
    expect(outcome.forecast([19_100])).toEqual([]);
    expect(outcome.hindsight()).toEqual([]);
  });

  it.each([1, 2, 3])('%i readings: a score, but too few for a date', (n) => {
    const outcome = assessWear(pointsOf([13, 12.9, 13].slice(0, n)), defaultFleetPrior);
    expect(outcome.count).toBe(n);
    expect(outcome.score).toBeGreaterThan(0);
    const passage = outcome.passage(limit, question);
    expect(passage).toMatchObject({ median: null, earliest80: null, whyNone: 'too few' });
    expect(passage.probabilityWithin1Year).toBe(outcome.probabilityWithin1Year);
  });

  it('readings that are not numbers are left out', () => {
    const broken = [
      { day: 18_500, idleSle: Number.NaN },
      { day: Number.NaN, idleSle: 80 },
    ];
    expect(assessWear(broken, defaultFleetPrior).count).toBe(0);
  });
});

describe('what the forecast says', () => {
  it('a constant level is far from the limit', () => {
    const outcome = assessWear(pointsOf(new Array(12).fill(13)), defaultFleetPrior);
    expect(outcome.score).toBeLessThan(0.02);
    expect(outcome.levelNow).toBeCloseTo(toKilopascals(13, 'psi'), 0);
    expect(outcome.passage(limit, question).latest80).toBeNull();
  });

  it('a steady fall to 10.5 psi is flagged, with its crossing about half a year off', () => {
    const outcome = assessWear(
      pointsOf([13, 12.8, 12.5, 12.2, 12, 11.7, 11.5, 11.2, 11, 10.7, 10.5]),
      defaultFleetPrior,
    );
    const last = 18_000 + 10 * 91;
    const passage = outcome.passage(limit, { ...question, asOf: last });
    expect(outcome.score).toBeGreaterThan(0.5);
    expect(passage.median! - last).toBeGreaterThan(90);
    expect(passage.median! - last).toBeLessThan(365);
    const dates = [
      passage.earliest95,
      passage.earliest90,
      passage.earliest80,
      passage.median,
      passage.latest80,
      passage.latest90,
      passage.latest95,
    ].map((date) => date ?? Number.POSITIVE_INFINITY);
    expect(dates).toEqual(dates.toSorted((a, b) => a - b));
  });

  it('the bands ahead hold the median, fall with wear and widen with time', () => {
    const outcome = assessWear(pointsOf([13, 12.7, 12.4, 12.1, 11.8, 11.5]), defaultFleetPrior);
    const [near, far] = outcome.forecast([18_500, 18_900]) as [
      ReturnType<typeof outcome.forecast>[number],
      ReturnType<typeof outcome.forecast>[number],
    ];
    for (const point of [near, far]) {
      const band = [point.low95, point.low80, point.median, point.high80, point.high95];
      expect(band).toEqual(band.toSorted((a, b) => a - b));
    }
    expect(far.median).toBeLessThan(near.median);
    expect(far.high80 - far.low80).toBeGreaterThan(near.high80 - near.low80);
  });

  it('a surprise asks for a re-read; a second reading that day confirms it', () => {
    const sound = pointsOf([13, 13.1, 12.9, 13]);
    const low = { day: 18_400, idleSle: toKilopascals(10.2, 'psi') };
    const once = assessWear([...sound, low], defaultFleetPrior);
    const twice = assessWear([...sound, low, low], defaultFleetPrior);
    expect(once.unconfirmed).toBe(true);
    expect(once.steps.at(-1)).toMatchObject({ asksReread: true, day: 18_400 });
    expect(once.score).toBeLessThan(0.05);
    expect(twice.unconfirmed).toBe(false);
    expect(twice.score).toBeGreaterThan(once.score!);
  });
});

describe('properties', () => {
  it('the order in which readings arrive does not matter', () => {
    fc.assert(
      fc.property(segment, (points) => {
        const forward = assessWear(points, defaultFleetPrior);
        const backward = assessWear(points.toReversed(), defaultFleetPrior);
        expect(backward.score).toBe(forward.score);
      }),
      { numRuns: 50 },
    );
  });

  it('moving levels, start and limit together moves nothing', () => {
    fc.assert(
      fc.property(segment, fc.double({ min: -3, max: 3, noNaN: true }), (points, shift) => {
        const plain = assessWear(points, defaultFleetPrior, limit);
        const moved = assessWear(
          shifted(points, toKilopascals(shift, 'psi')),
          { ...defaultFleetPrior, startLevel: defaultFleetPrior.startLevel + shift },
          limit + toKilopascals(shift, 'psi'),
        );
        expect(moved.score).toBeCloseTo(plain.score!, 8);
      }),
      { numRuns: 50 },
    );
  });

  it('moving all days moves nothing but the dates', () => {
    fc.assert(
      fc.property(segment, fc.integer({ min: -5000, max: 5000 }), (points, days) => {
        const plain = assessWear(points, defaultFleetPrior);
        const moved = assessWear(
          points.map((point) => ({ ...point, day: point.day + days })),
          defaultFleetPrior,
        );
        expect(moved.score).toBe(plain.score);
        const median = plain.passage(limit, question).median;
        expect(moved.passage(limit, question).median).toBe(median === null ? null : median + days);
      }),
      { numRuns: 50 },
    );
  });

  it('a repeated reading of equal value changes only whether it is confirmed', () => {
    fc.assert(
      fc.property(segment, (points) => {
        const once = assessWear(points, defaultFleetPrior);
        const twice = assessWear(
          points.flatMap((p) => [p, p]),
          defaultFleetPrior,
        );
        expect(twice.count).toBe(once.count);
        expect(twice.steps).toEqual(once.steps);
        expect(twice.unconfirmed).toBe(false);
      }),
      { numRuns: 50 },
    );
  });

  it('gives probabilities between 0 and 1, never NaN', () => {
    fc.assert(
      fc.property(segment, (points) => {
        const outcome = assessWear(points, defaultFleetPrior);
        const passage = outcome.passage(limit, question);
        for (const value of [
          outcome.score,
          passage.probabilityBeforeNextReading,
          passage.probabilityWithinHorizon,
          passage.probabilityWithin1Year,
          ...outcome.steps.map(({ readingInError }) => readingInError),
          ...outcome.hindsight(),
        ]) {
          expect(value).toBeGreaterThanOrEqual(0);
          expect(value).toBeLessThanOrEqual(1 + 1e-9);
        }
        expect(outcome.levelDeviation).toBeGreaterThan(0);
      }),
      { numRuns: 50 },
    );
  });
});

describe('one reading at a time', () => {
  it('equals recomputing from the start to 1e-9, through JSON, beyond the end of the grid', () => {
    const points = pointsOf(Array.from({ length: 40 }, (_, k) => 13 - (k % 5) / 10 - k / 20));
    let state = startWear(defaultFleetPrior);
    points.forEach((point, k) => {
      state = JSON.parse(JSON.stringify(updateWear(state, point)));
      const stepwise = wearOutcomeOf(state);
      const whole = assessWear(points.slice(0, k + 1), defaultFleetPrior);
      expect(Math.abs(stepwise.score! - whole.score!)).toBeLessThan(1e-9);
      expect(Math.abs(stepwise.levelNow! - whole.levelNow!)).toBeLessThan(1e-9);
      expect(stepwise.passage(limit, question)).toEqual(whole.passage(limit, question));
      expect(stepwise.steps).toEqual(whole.steps);
    });
  });

  it('refuses a reading that is not later than the newest', () => {
    const state = updateWear(startWear(defaultFleetPrior), { day: 100, idleSle: 90 })!;
    expect(updateWear(state, { day: 100, idleSle: 91 })).toBeNull();
    expect(updateWear(state, { day: 99, idleSle: 91 })).toBeNull();
    expect(updateWear(state, { day: 101, idleSle: Number.NaN })).toBeNull();
  });

  it('says nothing of a segment without a visit', () => {
    expect(wearOutcomeOf(startWear(defaultFleetPrior)).score).toBeNull();
  });
});
