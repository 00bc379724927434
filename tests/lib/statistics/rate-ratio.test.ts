import { describe, expect, it } from 'vitest';
import { rateRatio } from '@/lib/statistics/rate-ratio';

const estimated = (...[first, second]: Parameters<typeof rateRatio>) => {
  const ratio = rateRatio(first, second);
  if (ratio.outcome !== 'estimated') throw new Error(ratio.outcome);
  return ratio;
};

describe('ratio of two event rates', () => {
  it('meets the breast-cancer example of Breslow and Day 1987', () => {
    // As R's poisson.test(c(11, 6 + 8 + 7), c(800, 1083 + 1050 + 878)) prints it; figures from
    // memory, recomputed with SciPy 1.17 (Clopper-Pearson by scipy.stats.beta.ppf).
    const { ratio, low, high } = estimated({ events: 11, time: 800 }, { events: 21, time: 3011 });
    expect(ratio).toBeCloseTo(1.971488, 6);
    expect(low).toBeCloseTo(0.8584264, 7);
    expect(high).toBeCloseTo(4.2772659, 7);
  });

  it.each([
    // Computed with SciPy 1.17, scipy.stats.beta.ppf.
    [2, 40, 8, 40, 0.25, 0.025862744910841, 1.25273660233011],
    [480, 1000, 610, 900, 0.708196721311475, 0.62706043643019, 0.799473841701237],
    [0, 10, 5, 12, 0, 0, 1.309534926219055],
    [4, 10, 0, 12, null, 0.792148823232112, null],
  ])('%i in %i against %i in %i', (x1, t1, x2, t2, ratio, low, high) => {
    const found = estimated({ events: x1, time: t1 }, { events: x2, time: t2 });
    if (ratio === null) expect(found.ratio).toBeNull();
    else expect(found.ratio).toBeCloseTo(ratio, 10);
    expect(found.low).toBeCloseTo(low, 9);
    if (high === null) expect(found.high).toBeNull();
    else expect(found.high).toBeCloseTo(high, 9);
  });

  it('names thin data instead of dividing by nothing', () => {
    const none = { events: 0, time: 10 };
    expect(rateRatio(none, none)).toEqual({ outcome: 'no events' });
    const never = { events: 0, time: 0 };
    for (const [first, second] of [
      [none, never],
      [never, none],
    ] as const)
      expect(rateRatio(first, second)).toEqual({ outcome: 'no time observed' });
  });
});
