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
});
