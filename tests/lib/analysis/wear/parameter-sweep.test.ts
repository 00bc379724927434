import { describe, expect, it } from 'vitest';
import { defaultFleetPrior, type FleetPrior } from '@/lib/analysis/fleet-prior';
import { logPrior, parabolaStep, sweepParameters } from '@/lib/analysis/wear/parameter-sweep';
import { robustMoments } from '@/lib/analysis/wear/robust-moments';
import type { WearVisit } from '@/lib/analysis/wear/wear-visits';

describe('logPrior', () => {
  it('is 0 at the centre, minus a half at one deviation, and adds over parameters', () => {
    expect(logPrior(defaultFleetPrior)).toBeCloseTo(0, 14);
    const away = (change: Partial<FleetPrior>) => logPrior({ ...defaultFleetPrior, ...change });
    expect(away({ noise: 0.3 * Math.exp(0.5) })).toBeCloseTo(-0.5, 12);
    expect(away({ noise: 0.3 * Math.exp(-1) })).toBeCloseTo(-2, 12);
    expect(away({ errorShare: 0.04 * Math.exp(0.7) })).toBeCloseTo(-0.5, 12);
    expect(away({ wearNoise: 0.06 * Math.exp(1.4) })).toBeCloseTo(-2, 12);
    expect(away({ startDeviation: 0.6 * Math.exp(0.5), startLevel: 13.6 })).toBeCloseTo(-1, 12);
    expect(away({ startLevel: 12.4 })).toBeCloseTo(-0.5, 12);
  });
});

describe('sweepParameters', () => {
  /** A bowl whose top is known: parabolas in the logarithms, and in the start level itself. */
  const bowl = (top: Partial<FleetPrior>) => (prior: FleetPrior) =>
    (Object.entries(top) as [keyof FleetPrior, number][]).reduce((height, [name, at]) => {
      const value = prior[name] as number;
      return height - (name === 'startLevel' ? value - at : Math.log(value / at)) ** 2;
    }, 0);
  const swept = (top: Partial<FleetPrior>, widthScale = 1, fixed: 'wearNoise'[] = []) =>
    sweepParameters(defaultFleetPrior, widthScale, bowl(top), fixed);

  it('finds the top of each parameter in one pass', () => {
    const top = {
      noise: 0.27,
      errorShare: 0.05,
      wearNoise: 0.08,
      startDeviation: 0.5,
      startLevel: 13.2,
    };
    const found = swept(top);
    for (const name of Object.keys(top) as (keyof typeof top)[])
      expect(found[name]).toBeCloseTo(top[name], 9);
    expect(found).toEqual({ ...defaultFleetPrior, ...found, onset: defaultFleetPrior.onset });
    expect(swept(top, 1, ['wearNoise'])).toEqual({ ...found, wearNoise: 0.06 });
  });

  it('goes two half widths at most, of the width asked for', () => {
    expect(swept({ noise: 9 }).noise).toBeCloseTo(0.3 * Math.exp(0.3), 12);
    expect(swept({ noise: 0.001 }).noise).toBeCloseTo(0.3 * Math.exp(-0.3), 12);
    expect(swept({ wearNoise: 9 }, 0.7).wearNoise).toBeCloseTo(0.06 * Math.exp(0.7), 12);
    expect(swept({ startLevel: 20 }, 0.5).startLevel).toBeCloseTo(13.15, 12);
    expect(swept({ startDeviation: 9 }, 0.5).startDeviation).toBeCloseTo(0.6 * Math.exp(0.2), 12);
  });

  it('holds the share of errors at a fifth', () => {
    const steep = (prior: FleetPrior) => prior.errorShare;
    const high = { ...defaultFleetPrior, errorShare: 0.15 };
    expect(sweepParameters(high, 1, steep, []).errorShare).toBe(0.2);
  });

  it('stays where nothing is higher', () => {
    expect(sweepParameters(defaultFleetPrior, 1, () => 5, [])).toBe(defaultFleetPrior);
    // A ridge at the start falls off on both sides, less on one: the parabola's top is no higher.
    const ridge = ({ startLevel }: FleetPrior) =>
      startLevel === 13 ? 1 : startLevel > 13 ? 0.5 : 0;
    const others = ['noise', 'errorShare', 'wearNoise', 'startDeviation'] as const;
    expect(sweepParameters(defaultFleetPrior, 1, ridge, others)).toBe(defaultFleetPrior);
  });
});

describe('parabolaStep', () => {
  it('follows a line to its better side, and a valley likewise', () => {
    expect(parabolaStep(1, 2, 3)).toBe(2);
    expect(parabolaStep(3, 2, 1)).toBe(-2);
    expect(parabolaStep(2, 1, 2)).toBe(0);
    expect(parabolaStep(19.9, 10, 0)).toBe(-2);
  });
});

describe('robustMoments by hand', () => {
  const segment = (...idles: number[]): WearVisit[] =>
    idles.map((idle, day) => ({ day, idle, lowest: null, readings: [idle] }));

  it('blends the fleet with the default by n / (n + 20)', () => {
    // Against the mean of its neighbours each middle visit lies 0.1, -0.3, 0.6 and -0.6 off; that is
    // 0.2, 0.2, 0.7 and 0.5 from their median, -0.1. Starts 13, 12 and 14 lie 0, 1 and 1 from 13.
    const moments = robustMoments(
      [segment(12, 13, 13.8), segment(12, 11.7, 12), segment(14, 14.6, 14, 14.6), segment(99, 1)],
      defaultFleetPrior,
    );
    const noise = (1.4826 * 0.35) / Math.sqrt(1.5);
    const startVariance = 1.4826 ** 2 - 0.3925 * noise ** 2;
    const own = 3 / 23;
    expect(moments.noise).toBeCloseTo(Math.sqrt(own * noise ** 2 + (1 - own) * 0.09), 12);
    expect(moments.startLevel).toBeCloseTo(13, 12);
    expect(moments.startDeviation).toBeCloseTo(
      Math.sqrt(own * startVariance + (1 - own) * 0.36),
      12,
    );
  });

  it('keeps a least deviation of the start, 0.05 psi, for a fleet that is all alike', () => {
    const alike = Array.from({ length: 20 }, () => segment(12, 12, 12, 15, 12, 9));
    const { startLevel, startDeviation } = robustMoments(alike, defaultFleetPrior);
    expect(startLevel).toBe(12.5);
    expect(startDeviation).toBeCloseTo(Math.sqrt((0.0025 + 0.36) / 2), 12);
  });
});
