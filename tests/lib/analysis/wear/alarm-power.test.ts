import { describe, expect, it } from 'vitest';
import { scenarios } from '@/lib/analysis/backtest/fleet-scenarios';
import { simulateFleet } from '@/lib/analysis/backtest/simulate-fleet';
import { defaultFleetPrior } from '@/lib/analysis/fleet-prior';
import { learnAlarmPower } from '@/lib/analysis/wear/alarm-power';
import { scoreOf } from '@/lib/analysis/wear/score-of';
import { visitsOf } from '@/lib/analysis/wear/wear-visits';

const noise = (psi: number) => ({ ...defaultFleetPrior, startDeviation: 0.43, noise: psi });
const visits = simulateFleet({ ...scenarios.A!, units: 20 }, 41).map(({ points }) =>
  visitsOf(points),
);
const few = 200;

describe('scoreOf', () => {
  it('weighs the newest visit by 0.7 and raises to the power', () => {
    expect(scoreOf(0.5, 0.1)).toBeCloseTo(0.5 ** 0.7 * 0.1 ** 0.3, 14);
    expect(scoreOf(0.5, 0.1, 0.8)).toBeCloseTo(scoreOf(0.5, 0.1)! ** 0.8, 14);
    expect(scoreOf(0.5, null)).toBeCloseTo(0.5, 14);
    expect(scoreOf(null, 0.1)).toBeNull();
  });
});

describe('learnAlarmPower', () => {
  it('is 1 where nothing tells how often the fleet reads', () => {
    expect(learnAlarmPower([], defaultFleetPrior, 10)).toBe(1);
    expect(learnAlarmPower([visits[0]!.slice(0, 1)], defaultFleetPrior, 10)).toBe(1);
  });

  it('brings alarms forward in a quiet fleet, never puts them off in a noisy one', () => {
    const latest = Math.log(0.18) / Math.log(0.12);
    expect(learnAlarmPower(visits, noise(0.2), 10, few)).toBeLessThan(0.95);
    const errorless = { ...noise(0.05), errorShare: 1e-9 };
    expect(learnAlarmPower(visits, errorless, 10, few)).toBeCloseTo(latest, 12);
    expect(learnAlarmPower(visits, noise(0.5), 10, few)).toBe(1);
  });

  it('by a few pumps: as far forward as may be without errors, not at all in great noise or near the limit', () => {
    const power = (prior: typeof defaultFleetPrior, limit: number) =>
      learnAlarmPower(visits, prior, limit, 24);
    const errorless = { ...noise(0.05), errorShare: 1e-9 };
    expect(power(errorless, 10)).toBeCloseTo(Math.log(0.18) / Math.log(0.12), 12);
    expect(power(noise(0.6), 10)).toBe(1);
    expect(power(errorless, 13)).toBe(1);
    // Errors alone, one reading in five, raise alarms too.
    expect(power({ ...errorless, errorShare: 0.2 }, 10)).toBe(1);
  });

  it('counts against the limit given: near it no alarm comes forward', () => {
    expect(learnAlarmPower(visits, noise(0.25), 12, few)).toBe(1);
  });
});
