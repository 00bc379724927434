import { describe, expect, it } from 'vitest';
import { exponentialApproach } from '@/lib/statistics/exponential-approach';
import { ordinaryLeastSquares } from '@/lib/statistics/ordinary-least-squares';
import { seededRandom } from '@/lib/statistics/seeded-random';

// Without noise over a minute, densest at its start.
const t = [0, 0.03, 0.06, 0.2, 0.5, 1, 2, 4, 8, 12, 20, 30, 40, 50, 60];
const approached = (drop: number, spans: number) =>
  t.map((value) => 16 - drop * Math.exp(-value / (60 * spans)));

describe('a time constant of', () => {
  it.each([0.0015, 0.012, 0.05, 0.3, 1, 4, 15, 19.5])(
    '%d spans is found from any moment',
    (spans) => {
      for (const drop of [9, -9]) {
        const curve = exponentialApproach(
          t.map((value) => value + 5),
          approached(drop, spans),
        );
        expect(curve.timeConstant! / (60 * spans)).toBeCloseTo(1, 6);
        expect(curve.end).toBeCloseTo(16, 5);
        expect(curve.drop! / (drop * Math.exp(5 / (60 * spans)))).toBeCloseTo(1, 6);
      }
    },
  );

  it.each([0.0008, 20.5])('%d spans is no bend', (spans) => {
    const later = t.map((value) => value + 5);
    expect(exponentialApproach(later, approached(9, spans)).whyNone).toBe('no bend');
  });
});

// For a time constant the other two parameters are those of a straight line.
it('of noisy values is the best fit of all time constants', () => {
  const { normal, uniform } = seededRandom(3);
  const spans = Array.from({ length: 60 }, (_, k) => 0.01 * 2000 ** (k / 59));
  let bends = 0;
  for (let round = 0; round < 120; round++) {
    const timeConstant = 60 * 10 ** (3 * uniform() - 2.3);
    const times = Array.from({ length: 6 + (round % 4) }, () => 60 * uniform() ** 2);
    const y = times.map((value) => 16 - 9 * Math.exp(-value / timeConstant) + 2 * normal());
    const first = Math.min(...times);
    const span = Math.max(...times) - first;
    const squares = spans.map((share) => {
      const decay = times.map((value) => Math.exp((first - value) / (share * span)));
      return (times.length - 2) * ordinaryLeastSquares(decay, y).residualError! ** 2;
    });
    const best = squares.indexOf(Math.min(...squares));
    if (best === 0 || best === squares.length - 1) continue;
    bends++;
    const { residualError } = exponentialApproach(times, y);
    const least = (times.length - 3) * (residualError ?? Infinity) ** 2;
    expect(least).toBeLessThanOrEqual(squares[best]!);
  }
  expect(bends).toBeGreaterThan(60);
});
