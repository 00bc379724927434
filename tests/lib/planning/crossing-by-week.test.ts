import { describe, expect, it } from 'vitest';
import type { FirstPassage } from '@/lib/analysis/assessment';
import { crossingByWeek } from '@/lib/planning/crossing-by-week';
import { noPassage } from '@/tests/support/invented-assessment';

const unknown: FirstPassage = { ...noPassage, whyNone: 'too few' };

describe('crossingByWeek', () => {
  it('runs straight from the newest reading to the quantiles on record', () => {
    const weeks = crossingByWeek({ ...unknown, median: 28 }, 0, 0, 4);
    expect(weeks).toEqual([0, 0.125, 0.25, 0.375, 0.5]);
    expect(crossingByWeek({ ...unknown, median: 28 }, 0, 70, 2)).toEqual([0.5, 0.5, 0.5]);
  });

  it('gives zeros without a forecast', () => {
    expect(crossingByWeek(unknown, 0, 0, 3)).toEqual([0, 0, 0, 0]);
  });

  // Quantiles of a standard normal distribution to four places, common tables.
  it('stays within 0.04 of a normal first passage', () => {
    const at = (z: number): number => 200 + 50 * z;
    const passage: FirstPassage = {
      ...unknown,
      earliest95: at(-1.96),
      earliest90: at(-1.6449),
      earliest80: at(-1.2816),
      median: at(0),
      latest80: at(1.2816),
      latest90: at(1.6449),
      latest95: at(1.96),
    };
    const found = crossingByWeek(passage, 0, 150, 15);
    // Φ(−1), Φ(−0.02), Φ(0.82), Φ(1.24)
    expect(found[0]).toBeCloseTo(0.1587, 1);
    expect(Math.abs(found[7]! - 0.492)).toBeLessThan(0.04);
    expect(Math.abs(found[13]! - 0.7939)).toBeLessThan(0.04);
    for (let week = 1; week < found.length; week++) {
      expect(found[week]).toBeGreaterThanOrEqual(found[week - 1]!);
    }
  });
});
