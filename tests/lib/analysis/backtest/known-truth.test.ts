import { describe, expect, it } from 'vitest';
import { type Scenario, scenarios } from '@/lib/analysis/backtest/fleet-scenarios';
import { informedForecasts } from '@/lib/analysis/backtest/informed-forecasts';
import { likelihoodOf } from '@/lib/analysis/backtest/reading-likelihood';
import type { KnownSegment } from '@/lib/analysis/backtest/score-forecasts';
import { meanLossOf, simulateFleet } from '@/lib/analysis/backtest/simulate-fleet';
import { fromKilopascals, toKilopascals } from '@/lib/measure';
import { seededRandom } from '@/lib/statistics/seeded-random';

const base = scenarios.A!;
const psi = (value: number) => toKilopascals(value, 'psi');
const inPsi = (value: number) => fromKilopascals(value, 'psi');
describe('a simulated fleet without noise or errors', () => {
  const clear: Scenario = { ...base, units: 40, noise: 0, lowestNoise: 0, errorShare: 0, jump: 0 };

  it('lowest follows idle, both in 0.1 psi or 0.5 inHg', () => {
    const fleet = simulateFleet(clear, 7);
    const points = fleet.flatMap((segment) => segment.points);
    const isOn = (value: number, grain: number) =>
      Math.abs(value / grain - Math.round(value / grain)) < 1e-6;
    const inches = points.filter(({ idleSle }) => !isOn(inPsi(idleSle), 0.1));
    for (const { idleSle, lowestSle } of points) {
      expect(Math.abs(inPsi(lowestSle!) - (1.7 + 0.56 * inPsi(idleSle)))).toBeLessThan(0.2);
      const grain = isOn(inPsi(idleSle), 0.1) ? 0.1 : 0.5 * 0.491154;
      expect(isOn(inPsi(idleSle), grain)).toBe(true);
    }
    // 40 % are in inHg; some of those fall on 0.1 psi too.
    expect(inches.length / points.length).toBeGreaterThan(0.33);
    expect(inches.length / points.length).toBeLessThan(0.45);
    expect(fleet.every(({ isInError }) => isInError.every((wrong) => !wrong))).toBe(true);
  });

  it('is read about every 95 days but for 8 %, 20 days apart at least, one segment after another', () => {
    const fleet = simulateFleet(clear, 7);
    const gaps = fleet.flatMap(({ points }) =>
      points.slice(1).map(({ day }, k) => day - points[k]!.day),
    );
    const mean = gaps.reduce((sum, gap) => sum + gap, 0) / gaps.length;
    expect(Math.abs(mean - 95 / 0.92)).toBeLessThan(5);
    expect(Math.min(...gaps)).toBeGreaterThanOrEqual(20);
    const lastOf = new Map<string, number>();
    for (const { unit, points } of fleet) {
      expect(points[0]!.day).toBeGreaterThan(lastOf.get(unit) ?? -1);
      lastOf.set(unit, points.at(-1)!.day);
    }
    expect(lastOf.size).toBe(40);
    expect(Math.max(...lastOf.values())).toBeLessThan(6.5 * 365.25);
  });
});

describe('likelihoodOf, worked out plainly', () => {
  const variance = (0.4 * (0.5 * 0.491154) ** 2 + 0.6 * 0.1 ** 2) / 12;
  const idleSpread = Math.sqrt(0.28 ** 2 + variance);
  const lowestSpread = Math.sqrt(0.3 ** 2 + variance);
  const density = (level: number, idle: number, lowest: number) =>
    Math.exp(
      -(((idle - level) / idleSpread) ** 2) / 2 -
        ((lowest - 1.7 - 0.56 * level) / lowestSpread) ** 2 / 2,
    );
  const of = (errorShare: number, idle: number, lowest: number) =>
    likelihoodOf({ day: 0, idleSle: psi(idle), lowestSle: psi(lowest) }, { ...base, errorShare });

  it('of sound readings: two normals, rounding included', () => {
    for (const level of [9, 11, 12, 12.5, 15])
      expect(of(0, 12, 8)(level)).toBeCloseTo(density(level, 12, 8) + 1e-12, 12);
  });

  it.each([
    [6.4, 4.4],
    [26.5, 18.3],
    [11, 9],
    [14, 9],
    [11.6, 8.2],
  ])('of readings in error, %f and %f psi', (idle, lowest) => {
    const unit = 0.491154;
    const level = 13;
    const otherUnit =
      (0.4 * density(level, idle / unit, lowest / unit)) / unit ** 2 +
      0.6 * density(level, idle * unit, lowest * unit) * unit ** 2;
    const slipped = [-3, -2, -1, 1, 2, 3].reduce(
      (sum, slip) => sum + density(level, idle - slip, lowest) / 6,
      0,
    );
    // A cold engine lacks 0.8 to 2 psi: in the middle of six equal steps.
    let cold = 0;
    for (let k = 0; k < 6; k++) {
      const lack = 0.9 + 0.2 * k;
      cold += density(level, idle + lack, lowest + 0.56 * lack) / 6;
    }
    const expected = otherUnit / 4 + slipped / 4 + cold / 2;
    expect(of(1, idle, lowest)(level)).toBeCloseTo(expected, 10);
    expect(of(0.2, idle, lowest)(level)).toBeCloseTo(
      0.8 * density(level, idle, lowest) + 0.2 * expected,
      10,
    );
  });
});

describe('informedForecasts where there is one way to wear', () => {
  const drawn = { even: 1, accelerating: 0, sudden: 0 };
  const only: Scenario = {
    ...base,
    ...{ even: 1, accelerating: 0, sudden: 0, jump: 0 },
    startDeviation: 1e-9,
  };
  const loss = meanLossOf('even', only, seededRandom(987_654));
  const first = 1000;
  const start = first - 45;
  const known = (...ages: number[]): KnownSegment => ({
    ...{ unit: 'U1', isStable: false, isSudden: false, crossing: null, crossedInService: false },
    points: ages.map((age) => {
      const level = only.startLevel - loss(age / 365.25);
      return { day: start + age, idleSle: psi(level), lowestSle: psi(1.7 + 0.56 * level) };
    }),
    isInError: ages.map(() => false),
  });
  let week = 0;
  while (loss((7 * week) / 365.25) <= only.startLevel - 10) week++;

  it('its day is known, and whether it is within a year', () => {
    const ages = [45, 7 * week - 370, 7 * week - 360, 7 * week - 30, 7 * week + 30];
    const [{ visits }] = informedForecasts(only, [known(...ages)], drawn) as [
      ReturnType<typeof informedForecasts>[number],
    ];
    const on = start + 7 * week;
    visits.forEach((visit, k) => {
      const date = Math.max(visit.day, on);
      expect(visit).toMatchObject({ count: k + 1, earliest90: date, median: date, latest90: date });
      expect(visit).toMatchObject({ earliest80: date, latest80: date });
    });
    expect(visits.map(({ probabilityWithin1Year }) => probabilityWithin1Year)).toEqual(
      [0, 0, 1, 1, 1].map((chance) => expect.closeTo(chance, 9)),
    );
    expect(visits.map(({ score }) => score)).toEqual(
      [0, 0, 0, 1, 1].map((chance) => expect.closeTo(chance, 9)),
    );
  });

  it('beside none, it is weighed by Bayes’ rule', () => {
    const half = { ...only, even: 0.5 };
    const segment = known(45, 7 * week - 300);
    const [{ visits }] = informedForecasts(half, [segment, segment], drawn) as [
      ReturnType<typeof informedForecasts>[number],
    ];
    let odds = 1;
    segment.points.forEach((point, k) => {
      const of = likelihoodOf(point, half);
      const age = 7 * Math.floor((point.day - start) / 7);
      odds *= of(13.1 - loss(age / 365.25)) / of(13.1);
      if (k === 0) expect(visits[0]!.probabilityWithin1Year).toBeCloseTo(0, 9);
    });
    expect(visits[1]!.probabilityWithin1Year).toBeCloseTo(odds / (1 + odds), 6);
  });
});
