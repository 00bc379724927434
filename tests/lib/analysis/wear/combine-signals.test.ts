import { describe, expect, it } from 'vitest';
import { scenarios } from '@/lib/analysis/backtest/fleet-scenarios';
import { simulateFleet } from '@/lib/analysis/backtest/simulate-fleet';
import { combineSignals, learnLowestSignal } from '@/lib/analysis/wear/combine-signals';
import { visitsOf } from '@/lib/analysis/wear/wear-visits';

const learnt = (letter: string, seed: number) =>
  learnLowestSignal(simulateFleet(scenarios[letter]!, seed).map(({ points }) => visitsOf(points)));

describe('learnLowestSignal', () => {
  // Known truth: the simulator draws lowest = 1.7 + 0.56 idle with noise 0.3 psi, keyed to 0.1 psi or 0.5 inHg.
  it.each([
    ['A', 21],
    ['C', 22],
    ['H', 23],
  ])('finds the slope behind noise and slips, scenario %s', (letter, seed) => {
    const signal = learnt(letter, seed)!;
    expect(Math.abs(signal.slope - 0.56)).toBeLessThan(0.035);
    expect(Math.abs(signal.intercept + signal.slope * 12 - (1.7 + 0.56 * 12))).toBeLessThan(0.1);
  });

  it('gives lowest more say where idle is noisier', () => {
    expect(learnt('H', 24)!.weight).toBeGreaterThan(learnt('A', 24)!.weight);
  });

  it('is null for few pairs, for no lowest and for a fleet without wear', () => {
    expect(learnLowestSignal([])).toBeNull();
    const fleet = simulateFleet(scenarios.A!, 25);
    const idleOnly = fleet.map(({ points }) =>
      visitsOf(points.map(({ day, idleSle }) => ({ day, idleSle }))),
    );
    expect(learnLowestSignal(idleOnly)).toBeNull();
    const stable = fleet.filter(({ isStable }) => isStable).slice(0, 40);
    expect(learnLowestSignal(stable.map(({ points }) => visitsOf(points)))).toBeNull();
  });
});

describe('combineSignals', () => {
  const signal = { slope: 0.5, intercept: 2, weight: 0.25, disagreement: 2 };

  it('is idle alone where lowest was not read', () => {
    expect(combineSignals(13, null, signal, 13)).toBe(13);
  });

  it('moves towards lowest by its weight', () => {
    expect(combineSignals(13, 8, signal, 13)).toBe(12.75);
  });

  it('takes the one nearer to the last value where they disagree', () => {
    expect(combineSignals(6.4, 8.5, signal, 12.9)).toBe(13);
    expect(combineSignals(13, 4, signal, 12.9)).toBe(13);
  });
});
