import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type ForecastOutcome,
  forecastOutcomes,
  learnRecalibration,
} from '@/lib/analysis/backtest/recalibration';
import { outcomesOf, replayForecasts } from '@/lib/analysis/backtest/replay-forecasts';
import { defaultFleetPrior } from '@/lib/analysis/fleet-prior';
import { toKilopascals } from '@/lib/measure';
import { kaplanMeier } from '@/lib/statistics';

const limit = toKilopascals(10, 'psi');
const priorOn = () => defaultFleetPrior;

/** Crossings at odd hundredths, forecasts without one at every fifth of them. */
const fleet = Array.from(
  { length: 50 },
  (_, k): ForecastOutcome => ({
    segment: `S${k}`,
    probability: ((2 * k + 1) / 100) ** 2,
    hasCrossed: k % 5 !== 0,
  }),
);

describe('recalibration of forecast probabilities', () => {
  it('is Kaplan-Meier of the probabilities at which crossings came, shrunk towards the forecast', () => {
    // The estimator is checked against R's survfit under tests/published.
    const rows = kaplanMeier(
      fleet.map(({ probability }) => probability),
      fleet.map(({ hasCrossed }) => hasCrossed),
    );
    const recalibrate = learnRecalibration(fleet);
    for (const { time, survival, failures } of rows.filter((row) => row.failures > 0)) {
      expect(failures).toBe(1);
      expect(recalibrate(time)).toBeCloseTo((40 / 60) * (1 - survival) + (20 / 60) * time, 12);
    }
  });

  it('counts a segment once, however often it was forecast', () => {
    const once = learnRecalibration(fleet);
    const often = learnRecalibration(
      fleet.flatMap((outcome, k) => Array.from({ length: 1 + (k % 4) }, () => outcome)),
    );
    for (const { probability } of fleet)
      expect(often(probability)).toBeCloseTo(once(probability), 12);
  });

  it('leaves the forecast as it is below 30 crossings', () => {
    const recalibrate = learnRecalibration(fleet.slice(0, 36));
    expect(fleet.slice(0, 36).filter(({ hasCrossed }) => hasCrossed)).toHaveLength(28);
    expect([0, 0.2, 0.7, 1].map(recalibrate)).toEqual([0, 0.2, 0.7, 1]);
  });

  it('begins at 30 crossings', () => {
    // All crossed at a forecast of 0.2: borne out 1 there, at a trust of 30 / (30 + 20).
    const at = (crossings: number) =>
      Array.from({ length: crossings }, (_, k) => ({
        ...{ segment: `S${k}`, probability: 0.2, hasCrossed: true },
      }));
    expect(learnRecalibration(at(29))(0.2)).toBe(0.2);
    expect(learnRecalibration(at(30))(0.2)).toBeCloseTo(0.6 * 1 + 0.4 * 0.2, 12);
  });

  it('takes a crossing before a forecast without one at the same probability, in whatever order', () => {
    // 60 at risk when 30 cross at 0.5: half of them, whether the other 30 come first or last.
    const tied = Array.from({ length: 60 }, (_, k) => ({
      ...{ segment: `S${k}`, probability: 0.5, hasCrossed: k < 30 },
    }));
    for (const outcomes of [tied, tied.toReversed()])
      expect(learnRecalibration(outcomes)(0.5)).toBeCloseTo(0.5, 12);
  });

  it('never falls, and goes from 0 to 1', () => {
    const outcome = fc.record({
      segment: fc.integer({ min: 0, max: 60 }).map(String),
      probability: fc.double({ min: 0, max: 1, noNaN: true }),
      hasCrossed: fc.boolean(),
    });
    fc.assert(
      fc.property(fc.array(outcome, { minLength: 60, maxLength: 150 }), (outcomes) => {
        const recalibrate = learnRecalibration(outcomes);
        const shown = Array.from({ length: 21 }, (_, k) => recalibrate(k / 20));
        for (let k = 1; k < shown.length; k++)
          expect(shown[k]).toBeGreaterThanOrEqual(shown[k - 1]! - 1e-12);
        expect(recalibrate(1)).toBeCloseTo(1, 12);
        expect(recalibrate(0)).toBeGreaterThanOrEqual(0);
      }),
    );
  });
});

describe('what came of the forecasts of a segment', () => {
  const points = [90, 90, 89, 87, 84, 79, 72, 66, 60].map((idleSle, k) => ({
    day: 91 * k,
    idleSle,
  }));
  const wearing = {
    ...{ unit: 'U1', points, isInError: [], isStable: false, isSudden: false },
    crossing: null,
    crossedInService: true,
  };

  it('is asked from four visits on, until the crossing that the readings show', () => {
    const outcomes = forecastOutcomes(wearing, outcomesOf(points, priorOn, limit), limit);
    // The limit of 68.9 kPa lies between the visits of days 546 and 637.
    expect(outcomes).toHaveLength(4);
    expect(outcomes.every(({ hasCrossed }) => hasCrossed)).toBe(true);
    expect(outcomes.every(({ probability }) => probability > 0 && probability < 1)).toBe(true);
  });

  it('is a forecast without a crossing where none came', () => {
    const sound = { ...wearing, points: points.map((point) => ({ ...point, idleSle: 90 })) };
    const outcomes = forecastOutcomes(sound, outcomesOf(sound.points, priorOn, limit), limit);
    expect(outcomes).toHaveLength(5);
    expect(outcomes.every(({ hasCrossed }) => !hasCrossed)).toBe(true);
    expect(Math.max(...outcomes.map(({ probability }) => probability))).toBeLessThan(0.5);
  });

  it('tells each segment of a unit, and is asked for the time until its end', () => {
    // 365 days before the last visit the chance is that of a year.
    const sound = { ...wearing, points: points.map((_, k) => ({ day: 40 + 73 * k, idleSle: 80 })) };
    const forecasts = outcomesOf(sound.points, priorOn, limit);
    const outcomes = forecastOutcomes(sound, forecasts, limit);
    expect(outcomes[0]!.probability).toBeCloseTo(forecasts[3]!.probabilityWithin1Year!, 9);
    expect(new Set(outcomes.map(({ segment }) => segment)).size).toBe(1);
    const next = {
      ...sound,
      points: sound.points.map(({ day }) => ({ day: day + 999, idleSle: 80 })),
    };
    const [after] = forecastOutcomes(next, forecasts, limit);
    const [other] = forecastOutcomes({ ...sound, unit: 'U2' }, forecasts, limit);
    expect(new Set([outcomes[0], after, other].map((one) => one!.segment)).size).toBe(3);
  });

  it('is a crossing at the last visit alone where that was low and the unit left service by it', () => {
    const told = (last: number, crossedInService = true, first = 0) => {
      const seen = [...points.slice(first, 7), { day: 637, idleSle: last }];
      const known = { ...wearing, points: seen, crossedInService };
      return forecastOutcomes(known, outcomesOf(seen, priorOn, limit), limit).map(
        ({ hasCrossed }) => hasCrossed,
      );
    };
    expect(told(66)).toEqual([true, true, true, true]);
    // A reading at the limit is none below it, so no repair is seen either.
    expect(told(limit)).toEqual([false, false, false, false]);
    expect(told(66, false)).toEqual([false, false, false, false]);
    // Three visits and a last one tell nothing within a year.
    expect(told(80, true, 4)).toEqual([]);
  });

  it('moves no date where the recalibration moves no probability, and later ones where it lowers them', () => {
    const seen = points.slice(0, 7);
    const plain = replayForecasts(seen, priorOn, limit);
    const same = replayForecasts(seen, priorOn, limit, (probability) => probability);
    expect(same).toEqual(plain);
    const lower = replayForecasts(seen, priorOn, limit, (probability) => probability ** 2);
    expect(lower.at(-1)!.median).toBeGreaterThan(plain.at(-1)!.median!);
    expect(lower[2]!.median).toBeNull();
  });
});
