import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type PartHistory, partLives } from '@/lib/analysis/life';
import { fitLife } from '@/lib/analysis/life-weibull';
import type { Fitment } from '@/lib/analysis/reading';
import { randomFrom } from '../../support/random';

const history = (
  distance: number,
  whyRemoved: Fitment['whyRemoved'],
  change: Partial<Pick<Fitment, 'revision'>> & Partial<PartHistory> = {},
): PartHistory => ({
  fitment: {
    part: 'pump',
    revision: change.revision ?? 'A',
    fittedOn: 0,
    fittedOdometer: 1000,
    removedOn: whyRemoved === null ? null : 500,
    removedOdometer: whyRemoved === null ? null : 1000 + distance,
    whyRemoved,
  },
  engine: change.engine ?? null,
  shed: change.shed ?? null,
  odometerNow: 1000 + distance,
});
const groupOf = (lives: ReturnType<typeof partLives>, by: string, name: string) =>
  lives.groups.find((group) => group.by === by && group.name === name)!;

describe('lives of a part', () => {
  it('give the survival of a published example', () => {
    // NIST e-Handbook 8.2.1.5: 20 units, six failures, four removed, ten still running at 200.
    const lives = partLives(
      'pump',
      [
        ...[10, 32, 56, 98, 122, 181].map((at) => history(at, 'failed')),
        ...[50, 100, 125, 150].map((at) => history(at, 'preventive')),
        ...Array.from({ length: 10 }, () => history(200, null)),
      ],
      5,
    );
    const all = groupOf(lives, 'all', 'all');
    expect(all).toMatchObject({ lives: 20, failures: 6, trust: 'few failures' });
    const published = [0.95, 0.9, 0.84706, 0.79412, 0.7374, 0.67036];
    const steps = all.survival.filter(({ failures }) => failures > 0);
    expect(steps).toHaveLength(6);
    // The handbook multiplies rounded factors: its fifth figure is 5.04e-6 off.
    for (const [index, { survival }] of steps.entries())
      expect(Math.abs(survival - published[index]!)).toBeLessThan(6e-6);
  });

  it('are none where the odometer ran backwards', () => {
    const backwards = history(-300, 'failed');
    const lives = partLives('pump', [backwards, history(500, 'failed')], 5);
    expect(groupOf(lives, 'all', 'all')).toMatchObject({ lives: 1, failures: 1 });
    expect(lives.withoutDistance).toBe(1);
  });

  it('end with a removal whose day alone is known, at the odometer it had then', () => {
    const removed = history(500, 'failed');
    const unsaid = { ...removed.fitment, whyRemoved: null };
    const [group] = partLives(
      'pump',
      [{ ...removed, fitment: unsaid, odometerNow: 9000 }],
      5,
    ).groups;
    expect(group).toMatchObject({ lives: 1, failures: 0 });
    expect(group!.survival.at(-1)!.time).toBe(500);
  });

  it('are of that part alone, and want a distance', () => {
    const pump = history(500, 'failed');
    const belt = { ...pump, fitment: { ...pump.fitment, part: 'belt' as const } };
    const undated = { ...pump, fitment: { ...pump.fitment, removedOn: null } };
    const without = { ...pump, fitment: { ...pump.fitment, fittedOdometer: null } };
    const unread = { ...history(500, null), odometerNow: null };
    const lives = partLives('pump', [pump, belt, undated, without, unread, history(0, null)], 5);
    // A removal whose day is not known is one all the same, at the odometer it had.
    expect(groupOf(lives, 'all', 'all')).toMatchObject({ lives: 2, failures: 2 });
    expect(lives.withoutDistance).toBe(3);
    const running = { ...history(500, null), odometerNow: 1700 };
    const [group] = partLives('pump', [running, { ...undated, odometerNow: 9000 }], 5).groups;
    expect(group).toMatchObject({ lives: 2, failures: 1 });
    expect(group!.survival.map(({ time }) => time)).toEqual([500, 700]);
  });

  it('tell parts that differ apart, and leave alike ones together', () => {
    const two = (second: number) =>
      partLives(
        'pump',
        Array.from({ length: 30 }, (_, index) => [
          history(1000 + 37 * index, 'worn', { revision: 'A', shed: 'North' }),
          history(second + 37 * index, 'worn', { revision: 'B', shed: 'North' }),
        ]).flat(),
        5,
      ).comparisons;
    expect(two(2200).map(({ by }) => by)).toEqual(['revision']);
    expect(two(2200)[0]!.p).toBeLessThan(1e-6);
    expect(two(1001)[0]!.p).toBeGreaterThan(0.5);
    expect(two(1001)[0]!.degreesOfFreedom).toBe(1);
  });

  it('recover a known life and the replacement age that follows from it', () => {
    // Barlow and Hunter: shape 3.5, scale 95,000 mi, cost ratio 5 gives 49,361 mi.
    const { uniform } = randomFrom(4);
    const drawn = Array.from({ length: 1500 }, () => {
      const life = 95_000 * (-Math.log(uniform())) ** (1 / 3.5);
      return life > 110_000 ? history(110_000, 'preventive') : history(life, 'failed');
    });
    const all = groupOf(partLives('pump', drawn, 5), 'all', 'all');
    expect(all.weibull!.shape).toBeGreaterThan(3.5 * 0.88);
    expect(all.weibull!.shape).toBeLessThan(3.5 * 1.12);
    expect(Math.abs(all.weibull!.scale / 95_000 - 1)).toBeLessThan(0.05);
    expect(Math.abs(all.replacement.age! / 49_361 - 1)).toBeLessThan(0.06);
    expect(all.replacement.isRecommendation).toBe(true);
  });

  it('count a failure only where the part was to blame', () => {
    const lives = partLives(
      'pump',
      [
        history(10, 'failed'),
        history(20, 'worn'),
        history(30, 'repaired'),
        history(40, 'bulletin'),
        history(50, 'other'),
        history(60, 'preventive'),
        history(70, null),
      ],
      5,
    );
    expect(groupOf(lives, 'all', 'all')).toMatchObject({ lives: 7, failures: 3 });
  });
});

describe('thin data', () => {
  it('is named', () => {
    const none = partLives('belt', [], 5);
    expect(none.comparisons).toEqual([]);
    expect(none.groups).toEqual([
      {
        by: 'all',
        name: 'all',
        lives: 0,
        failures: 0,
        survival: [],
        trust: 'hidden',
        weibull: null,
        replacement: { age: null, whyNone: 'too few failures', isRecommendation: false },
      },
    ]);
    const unplaced = history(0, 'failed');
    const lives = partLives('pump', [unplaced, history(10, 'failed', { revision: null })], 5);
    expect(lives.withoutDistance).toBe(1);
    expect(groupOf(lives, 'engine', 'unknown').lives).toBe(1);
  });

  const lives = (failures: number) =>
    fitLife(
      Array.from({ length: failures + 3 }, (_, index) => 100 + 17 * index),
      Array.from({ length: failures + 3 }, (_, index) => index < failures),
    ).trust;
  it('gains trust with failures', () => {
    expect([0, 4].map(lives)).toEqual(['hidden', 'hidden']);
    expect([5, 9].map(lives)).toEqual(['few failures', 'few failures']);
    expect([10, 19].map(lives)).toEqual(['shown', 'shown']);
    expect([20, 60].map(lives)).toEqual(['enough to recommend', 'enough to recommend']);
  });

  it('holds the shape of ten failures near 3', () => {
    // Lives: NIST e-Handbook 8.4.1. Figures: SciPy 1.17.1 minimize (Nelder-Mead) of the negative log
    // likelihood plus (ln shape - ln 3)^2 / (2 x 0.3^2).
    const failed = [54, 187, 216, 240, 244, 335, 361, 373, 375, 386];
    const { weibull } = fitLife(
      [...failed, ...Array.from({ length: 10 }, () => 500)],
      Array.from({ length: 20 }, (_, index) => index < 10),
    );
    expect(weibull!.shape).toBeCloseTo(2.21026, 4);
    expect(weibull!.scale).toBeCloseTo(566.849, 2);
  });

  it('plans no replacement where planned work costs as much', () => {
    const worn = Array.from({ length: 12 }, (_, index) => history(100 + 10 * index, 'worn'));
    expect(groupOf(partLives('pump', worn, 1), 'all', 'all').replacement).toEqual({
      age: null,
      whyNone: 'failure costs no more',
      isRecommendation: false,
    });
  });

  it('gives no figure that is not a number, whatever the lives', () => {
    const any = fc.record({
      distance: fc.integer({ min: 1, max: 400_000 }),
      why: fc.constantFrom('failed', 'preventive', null),
    });
    fc.assert(
      fc.property(fc.array(any, { maxLength: 40 }), (list) => {
        const group = groupOf(
          partLives(
            'pump',
            list.map(({ distance, why }) => history(distance, why as Fitment['whyRemoved'])),
            5,
          ),
          'all',
          'all',
        );
        expect(JSON.stringify(group)).not.toContain('NaN');
        if (group.weibull) {
          expect(Number.isFinite(group.weibull.shape)).toBe(true);
          expect(Number.isFinite(group.weibull.scale)).toBe(true);
        }
        for (const { survival } of group.survival) {
          expect(survival).toBeGreaterThanOrEqual(0);
          expect(survival).toBeLessThanOrEqual(1);
        }
      }),
    );
  });
});
