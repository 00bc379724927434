import { describe, expect, it } from 'vitest';
import { scenarios } from '@/lib/analysis/backtest/fleet-scenarios';
import { informedForecasts } from '@/lib/analysis/backtest/informed-forecasts';
import { likelihoodOf } from '@/lib/analysis/backtest/reading-likelihood';
import { scoreForecasts } from '@/lib/analysis/backtest/score-forecasts';
import { simulateFleet } from '@/lib/analysis/backtest/simulate-fleet';
import { toKilopascals } from '@/lib/measure';

const scenario = { ...scenarios.A!, units: 40 };
const reading = (idle: number, lowest: number) => ({
  day: 0,
  idleSle: toKilopascals(idle, 'psi'),
  lowestSle: toKilopascals(lowest, 'psi'),
});

describe('likelihoodOf', () => {
  it('is highest at the level that both signals show', () => {
    const of = likelihoodOf(reading(12, 1.7 + 0.56 * 12), scenario);
    for (const level of [10, 11, 11.5, 12.5, 13, 14]) expect(of(12)).toBeGreaterThan(of(level));
  });

  it('knows the errors that people make: a wrong unit, a slipped digit, a cold engine', () => {
    const lowest = 1.7 + 0.56 * 13;
    for (const wrong of [
      reading(13 * 0.491, lowest * 0.491),
      reading(11, lowest),
      reading(13 - 1.4, lowest - 0.56 * 1.4),
    ]) {
      const of = likelihoodOf(wrong, scenario);
      expect(of(13)).toBeGreaterThan(100 * of(14.6));
      expect(of(13)).toBeGreaterThan(1e-4);
    }
  });
});

describe('informedForecasts', () => {
  it('knows the day of a crossing about as well as it says, and spares sound pumps', () => {
    const drawn = { even: 100, accelerating: 500, sudden: 60 };
    const judged = informedForecasts(scenario, simulateFleet(scenario, 42), drawn);
    const scores = scoreForecasts(judged);
    expect(scores.crossings).toBeGreaterThan(8);
    expect(scores.coverage80).toBeGreaterThan(0.65);
    expect(scores.coverage80).toBeLessThan(0.95);
    expect(scores.medianAbsoluteError[0]).toBeLessThan(80);
    expect(scores.flaggedBefore).toBeGreaterThan(0.8);
    expect(scores.falseAlarmsPer1000Years).toBeLessThan(20);
  });

  it('knows nearly the day where all wear evenly and gauges are good, in order and within its intervals', () => {
    const fine = {
      ...{ ...scenario, units: 12, even: 1, accelerating: 0, sudden: 0, jump: 0 },
      ...{ noise: 0.2, lowestNoise: 0.2, errorShare: 0, startDeviation: 0.1 },
    };
    const worn = informedForecasts(fine, simulateFleet(fine, 5), {
      ...{ even: 400, accelerating: 1, sudden: 1 },
    }).filter(({ crossedInService, points }) => crossedInService && points.length > 5);
    expect(worn.length).toBeGreaterThan(5);
    for (const { visits, crossing } of worn) {
      expect(visits.map(({ count }) => count)).toEqual(visits.map((_, k) => k + 1));
      const last = visits.findLast(({ day }) => day < crossing!)!;
      expect(Math.abs(last.median! - crossing!)).toBeLessThan(90);
      expect(last.probabilityWithin1Year).toBeGreaterThan(0.9);
      for (const visit of visits) {
        const dates = [visit.day, visit.earliest90, visit.earliest80, visit.median];
        const inOrder = [...dates, visit.latest80, visit.latest90].map((day) => day ?? 1e9);
        expect(inOrder).toEqual(inOrder.toSorted((a, b) => a - b));
      }
      const after = visits.find(({ day }) => day > crossing! + 60);
      if (after) expect(after.probabilityWithin1Year).toBeCloseTo(1, 3);
    }
    const asIs = worn.flatMap(({ visits, crossing }) =>
      visits.filter(({ day }) => day < crossing!).map((visit) => ({ visit, crossing: crossing! })),
    );
    const inside = asIs.filter(
      ({ visit, crossing }) =>
        visit.earliest90! <= crossing + 7 && crossing - 7 <= (visit.latest90 ?? 1e9),
    );
    expect(inside.length / asIs.length).toBeGreaterThan(0.75);
  });

  it('gives a pump that holds its level little chance to wear', () => {
    const sound = { ...scenario, units: 4, even: 0, accelerating: 0, sudden: 0 };
    const [first] = informedForecasts(scenario, simulateFleet(sound, 5), {
      ...{ even: 40, accelerating: 100, sudden: 20 },
    });
    expect(first!.visits[0]!.probabilityWithin1Year).toBeGreaterThan(0.001);
    expect(first!.visits.at(-1)!.probabilityWithin1Year).toBeLessThan(0.1);
    expect(first!.visits.at(-1)!.score).toBeLessThan(0.1);
    expect(first!.visits.at(-1)!.median).toBeNull();
  });
});
