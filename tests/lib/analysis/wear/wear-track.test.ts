import { describe, expect, it } from 'vitest';
import { defaultFleetPrior } from '@/lib/analysis/fleet-prior';
import { assessWear, type WearPoint } from '@/lib/analysis/wear';
import { mostVisits, WearTrack } from '@/lib/analysis/wear/wear-track';
import { toKilopascals } from '@/lib/measure';
import { seededRandom } from '@/lib/statistics/seeded-random';

/** Visits of one level with noise of the fleet's own size, from sums of uniforms. */
function long(years: number, level: (year: number) => number, seed: number): WearPoint[] {
  const { uniform } = seededRandom(seed);
  return Array.from({ length: Math.floor(years * 4) }, (_, k) => {
    const noise = 0.3 * (uniform() + uniform() + uniform() + uniform() - 2) * Math.sqrt(3);
    return { day: k * 91, idleSle: toKilopascals(level((k * 91) / 365.25) + noise, 'psi') };
  });
}

describe('segments beyond the grid', () => {
  it('keeps at most the latest visits of five years', () => {
    const track = new WearTrack();
    track.start(defaultFleetPrior);
    for (const { day } of long(12, () => 13, 1)) {
      track.take(day, 13);
      expect(track.count).toBeLessThanOrEqual(mostVisits);
      expect(track.years).toBeLessThanOrEqual(6);
    }
    expect(track.years).toBeGreaterThan(4);
  });

  it('follows a long even wear without a break where the origin moves', () => {
    const points = long(12, (year) => 13 - 0.2 * year, 2);
    for (let n = 20; n <= points.length; n++) {
      const outcome = assessWear(points.slice(0, n), defaultFleetPrior);
      const truth = 13 - (0.2 * points[n - 1]!.day) / 365.25;
      expect(Math.abs(outcome.levelNow! - toKilopascals(truth, 'psi'))).toBeLessThan(
        toKilopascals(0.45, 'psi'),
      );
    }
  });

  it('raises no alarm on long stable segments, even far from the usual start', () => {
    for (let seed = 10; seed < 30; seed++) {
      const points = long(12, () => 12.2 + (seed % 5) / 3, seed);
      for (const n of [28, 30, 36, 44, 48])
        expect(assessWear(points.slice(0, n), defaultFleetPrior).score).toBeLessThan(0.18);
    }
  });

  it('still sees a unit that begins to wear after nine years', () => {
    const points = long(12, (year) => 13 - 1.5 * Math.max(0, year - 9), 3);
    const crossed = points.findIndex(({ day }) => day / 365.25 > 11);
    const scores = points.map(
      (_, k) => assessWear(points.slice(0, k + 1), defaultFleetPrior).score!,
    );
    expect(scores.slice(4, 34).every((score) => score < 0.18)).toBe(true);
    expect(scores.findIndex((score, k) => k >= 4 && score >= 0.18)).toBeLessThan(crossed - 1);
  });

  it('goes on after a gap longer than the grid', () => {
    const points = [0, 91, 182, 4000, 4091].map((day) => ({ day, idleSle: 90 }));
    const outcome = assessWear(points, defaultFleetPrior);
    expect(outcome.count).toBe(5);
    expect(outcome.score).toBeGreaterThan(0);
    expect(outcome.hindsight()).toHaveLength(5);
  });
});
