import { describe, expect, it } from 'vitest';
import { incompleteGamma } from '@/lib/statistics/incomplete-gamma';
import { seededRandom } from '@/lib/statistics/seeded-random';

const draws = 40_000;
const moments = (draw: () => number) => {
  const values = Array.from({ length: draws }, draw);
  const mean = values.reduce((sum, value) => sum + value, 0) / draws;
  return { mean, variance: values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / draws };
};

describe('seededRandom', () => {
  it('repeats with the seed and differs with another', () => {
    const series = (seed: number) => Array.from({ length: 5 }, seededRandom(seed).uniform);
    expect(series(3)).toEqual(series(3));
    expect(series(3)).not.toEqual(series(4));
  });

  it('is mulberry32', () => {
    // The algorithm's own C, with unsigned 32-bit arithmetic, from the seed 1.
    const { uniform } = seededRandom(1);
    const words = [0, 0, 0].map(() => uniform() * 2 ** 32);
    expect(words).toEqual([2693262067, 11749833, 2265367787]);
  });

  // Mean and variance of each distribution; a normal deviate of the estimate beyond 4 would fail.
  it.each([
    ['uniform', () => seededRandom(5).uniform, 1 / 2, 1 / 12],
    ['normal', () => seededRandom(6).normal, 0, 1],
    ['gamma 0.3', () => gammaOf(7, 0.3), 0.3, 0.3],
    ['gamma 4', () => gammaOf(8, 4), 4, 4],
  ])('%s has its mean and variance', (_, generator, mean, variance) => {
    const found = moments(generator());
    expect(Math.abs(found.mean - mean)).toBeLessThan(4 * Math.sqrt(variance / draws));
    expect(Math.abs(found.variance / variance - 1)).toBeLessThan(0.08);
  });

  // Kolmogorov's distance, whose root-n multiple passes 1.95 once in a thousand samples.
  it.each([0.5, 1, 1.5, 6])('gamma %d has its distribution', (shape) => {
    const draw = gammaOf(11, shape);
    const values = Float64Array.from({ length: 20_000 }, draw).sort();
    const distance = values.reduce((most, value, i) => {
      const share = incompleteGamma(shape, value).lower;
      return Math.max(most, (i + 1) / values.length - share, share - i / values.length);
    }, 0);
    expect(distance * Math.sqrt(values.length)).toBeLessThan(1.95);
  });

  it('gives no jump for no wear', () => {
    expect(seededRandom(9).gamma(0)).toBe(0);
  });
});

function gammaOf(seed: number, shape: number): () => number {
  const { gamma } = seededRandom(seed);
  return () => gamma(shape);
}
