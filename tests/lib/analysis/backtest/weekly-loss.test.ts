import { describe, expect, it } from 'vitest';
import { scenarios } from '@/lib/analysis/backtest/fleet-scenarios';
import { meanLossOf, weeklyLoss, weeks } from '@/lib/analysis/backtest/simulate-fleet';
import { seededRandom } from '@/lib/statistics/seeded-random';

const base = scenarios.A!;
const exponential = scenarios.B!;
/** Chance that always gives the same. */
const always = (uniform: number, normal = 0) => ({
  uniform: () => uniform,
  normal: () => normal,
  gamma: (shape: number) => shape,
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
