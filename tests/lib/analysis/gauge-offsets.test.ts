import { describe, expect, it } from 'vitest';
import { visitsBySegment } from '@/lib/analysis/assess-fleet';
import {
  type GaugeComparison,
  type GaugeOffset,
  gaugeComparisons,
  gaugeOffsets,
} from '@/lib/analysis/gauge-offsets';
import type { Fitment, Reading } from '@/lib/analysis/reading';
import { toKilopascals } from '@/lib/measure';
import { type Random, randomFrom } from '../../support/random';

const psi = (value: number) => toKilopascals(value, 'psi');
const today = 10_000;

const readingOf = (k: number, idle: number | null, gauge: string | null): Reading => ({
  id: `r${k}`,
  readOn: 91 * k,
  entry: k,
  idle,
  raised: null,
  lowest: null,
  recovery: null,
  holdLoss: null,
  holdTime: null,
  line: 'dry',
  pedal: null,
  belt: null,
  barometer: null,
  odometer: null,
  technician: null,
  gauge,
});

const comparisonsOf = (
  readings: readonly Reading[],
  fitments: readonly Fitment[] = [],
  elevation = 0,
): readonly GaugeComparison[] =>
  visitsBySegment({
    unit: { unit: 'U', elevation, builtOn: null, trackedFrom: null },
    readings,
    fitments,
    asOf: today,
  }).flatMap(gaugeComparisons);

/**
 * Forty units of a shed, read sixteen times with whichever gauge was at hand: noise 0.3 psi, one slip
 * in thirty of 2 psi, every third pump wearing ever faster.
 */
function fleetRead(random: Random, offsets: Readonly<Record<string, number>>) {
  const gauges = Object.keys(offsets);
  return Array.from({ length: 40 }, (_, unit) => {
    const level = 13 + 0.6 * random.normal();
    return comparisonsOf(
      Array.from({ length: 16 }, (__, k) => {
        const gauge = gauges[Math.floor(random.uniform() * gauges.length)]!;
        const wear = unit % 3 === 0 ? 3 * (k / 16) ** 2 : 0;
        const slip = random.uniform() < 1 / 30 ? 2 * random.normal() : 0;
        const shown = level - wear + slip + 0.3 * random.normal() + offsets[gauge]!;
        return readingOf(k, psi(shown), gauge);
      }),
    );
  }).flat();
}

const of = (offsets: readonly GaugeOffset[], gauge: string) =>
  offsets.find((one) => one.gauge === gauge);

describe('the offset of a gauge', () => {
  it('is what one gauge shows above the line of the readings around it', () => {
    const found = comparisonsOf([
      readingOf(0, 90, 'one'),
      readingOf(1, 86, 'two'),
      readingOf(2, 88, 'one'),
    ]);
    expect(found).toEqual([{ gauge: 'two', others: ['one'], difference: -3 }]);
  });

  it('is told as the gauge shows it, in the thinner air of the shed', () => {
    const read = (elevation: number) =>
      comparisonsOf(
        [80, 77, 80].map((idle, k) => readingOf(k, idle, k === 1 ? 'two' : 'one')),
        [],
        elevation,
      );
    expect(read(0)[0]?.difference).toBeCloseTo(-3, 9);
    expect(read(1500)[0]?.difference).toBeCloseTo(-3, 9);
  });

  it('compares neither across a new pump, nor with the same gauge, nor with none named, nor over years', () => {
    const three = (gauges: readonly (string | null)[]) =>
      gauges.map((gauge, k) => readingOf(k, 85 + k, gauge));
    const pump: Fitment = {
      part: 'pump',
      revision: null,
      fittedOn: 130,
      fittedOdometer: null,
      removedOn: null,
      removedOdometer: null,
      whyRemoved: null,
    };
    expect(comparisonsOf(three(['one', 'two', 'one']))).toHaveLength(1);
    expect(comparisonsOf(three(['one', 'two', 'one']), [pump])).toEqual([]);
    expect(comparisonsOf(three(['two', 'two', 'one']))).toEqual([]);
    expect(comparisonsOf(three(['one', null, 'one']))).toEqual([]);
    // The visit without a gauge is passed over: the line runs from 85 to 88 over three quarters.
    const bridged = comparisonsOf(three(['one', null, 'two', 'one']));
    expect(bridged).toEqual([{ gauge: 'two', others: ['one'], difference: expect.closeTo(0, 9) }]);
    const rarely = three(['one', 'two', 'one']).map((one) => ({ ...one, readOn: 3 * one.readOn }));
    expect(comparisonsOf(rarely)).toEqual([]);
    const over = (days: number) =>
      three(['one', 'two', 'one']).map((one, k) => ({ ...one, readOn: (k * days) / 2 }));
    expect(comparisonsOf(over(400))).toHaveLength(1);
    expect(comparisonsOf(over(402))).toEqual([]);
  });

  it('finds the one gauge that reads low, and clears those compared with it', () => {
    const offsets = gaugeOffsets(fleetRead(randomFrom(3), { one: 0, two: -0.5, three: 0 }));
    expect(of(offsets, 'two')).toMatchObject({ isDoubtful: true, others: ['one', 'three'] });
    const [low, high] = of(offsets, 'two')?.interval ?? [0, 0];
    expect(low).toBeLessThan(psi(-0.5));
    expect(high).toBeGreaterThan(psi(-0.5));
    expect(of(offsets, 'one')).toMatchObject({ isDoubtful: false, others: ['three'] });
    expect(of(offsets, 'three')).toMatchObject({ isDoubtful: false, others: ['one'] });
  });

  it('cannot tell which of two is off, and doubts both', () => {
    const offsets = gaugeOffsets(fleetRead(randomFrom(4), { one: 0.3, two: -0.3 }));
    expect(of(offsets, 'one')).toMatchObject({ isDoubtful: true, others: ['two'] });
    expect(of(offsets, 'two')).toMatchObject({ isDoubtful: true, others: ['one'] });
    expect(of(offsets, 'one')?.offset).toBeGreaterThan(0);
    expect(of(offsets, 'two')?.offset).toBeLessThan(0);
  });

  it('covers the true offset as often as it says, and doubts hardly any sound gauge', () => {
    let covered = 0;
    let doubted = 0;
    const fleets = 60;
    for (let seed = 0; seed < fleets; seed++) {
      const offsets = gaugeOffsets(fleetRead(randomFrom(100 + seed), { a: 0, b: 0, c: 0, d: 0 }));
      for (const { interval, isDoubtful } of offsets) {
        if (interval && interval[0] <= 0 && interval[1] >= 0) covered++;
        if (isDoubtful) doubted++;
      }
    }
    // 240 gauges: 95% of them within three binomial errors, and at most one in fifty doubted.
    expect(covered / (4 * fleets)).toBeGreaterThan(0.95 - 3 * 0.0141);
    expect(covered / (4 * fleets)).toBeLessThan(0.95 + 3 * 0.0141);
    expect(doubted / (4 * fleets)).toBeLessThanOrEqual(0.02);
  });

  const beside = (gauge: string, others: string[], differences: number[]) =>
    differences.map((difference) => ({ gauge, others, difference }));
  const eight = (difference: number) => Array<number>(8).fill(difference);

  it('doubts from a quarter psi on, and from three errors on', () => {
    const isDoubtful = (differences: number[]) =>
      gaugeOffsets(beside('one', ['two'], differences))[0]?.isDoubtful;
    expect(isDoubtful(eight(psi(0.25)))).toBe(true);
    expect(isDoubtful(eight(-psi(0.25)))).toBe(true);
    expect(isDoubtful(eight(psi(0.2499)))).toBe(false);
    // Median 3; deviations 1 and 2 in turn, so σ = 1.4826 × 1.5 and the error 1.2533 σ / √6 = 1.14.
    const scattered = [1, 2, 4, 5, 1, 2, 4, 5];
    expect(isDoubtful(scattered)).toBe(false);
    expect(isDoubtful(scattered.map((value) => value + 0.5))).toBe(true);
    const [offset] = gaugeOffsets(beside('one', ['two'], scattered));
    const error = (1.2533 * 1.4826 * 1.5) / Math.sqrt(6);
    expect(offset?.interval?.[0]).toBeCloseTo(3 - 1.96 * error, 9);
    expect(offset?.interval?.[1]).toBeCloseTo(3 + 1.96 * error, 9);
  });

  it('names the clearest first, and what leans on it only where nothing else is left', () => {
    const offsets = gaugeOffsets([
      ...beside('zeta', ['beta', 'alpha'], [...eight(6), 5, 7, 5, 7]),
      ...beside('mid', ['zeta'], eight(-6)),
      ...beside('beta', ['zeta'], [-6, -6, -6]),
      ...beside('beta', ['alpha'], eight(0)),
      ...beside('alpha', ['beta'], eight(0)),
    ]);
    expect(offsets.map(({ gauge }) => gauge)).toEqual(['alpha', 'beta', 'mid', 'zeta']);
    expect(offsets.map(({ isDoubtful }) => isDoubtful)).toEqual([false, false, true, true]);
    expect(of(offsets, 'zeta')?.others).toEqual(['alpha', 'beta']);
    expect(of(offsets, 'beta')).toMatchObject({ comparisons: 8, others: ['alpha'], offset: 0 });
    expect(of(offsets, 'mid')).toMatchObject({ comparisons: 8, others: ['zeta'], offset: -6 });
  });

  it('takes the clearest by its offset against its own spread, not the largest', () => {
    // 'wide' is 4 kPa off, and no more sure of it than 'sharp' of its 3: once 'sharp' is set aside,
    // what 'wide' has left besides says nothing against it.
    const offsets = gaugeOffsets([
      ...beside('wide', ['sharp'], [2, 6, 2, 6, 2, 6, 2, 6, 4, 4]),
      ...beside('wide', ['other'], [-1, 1, -1, 1, -1, 1, 0, 0]),
      ...beside('sharp', ['other'], [3, 3.1, 2.9, 3, 3.1, 2.9, 3, 3]),
      ...beside('sharp', ['wide'], [-3, -3.1, -2.9]),
    ]);
    expect(of(offsets, 'sharp')?.isDoubtful).toBe(true);
    expect(of(offsets, 'wide')).toMatchObject({ isDoubtful: false, comparisons: 8 });
  });

  it('says of a gauge with few comparisons only how few', () => {
    const seven = Array.from({ length: 7 }, () => ({
      gauge: 'one',
      others: ['two'],
      difference: 9,
    }));
    expect(gaugeOffsets(seven)).toEqual([
      {
        gauge: 'one',
        comparisons: 7,
        others: ['two'],
        offset: null,
        interval: null,
        isDoubtful: false,
      },
    ]);
    expect(gaugeOffsets([...seven, seven[0]!])[0]).toMatchObject({ offset: 9, isDoubtful: true });
    expect(gaugeOffsets([])).toEqual([]);
  });
});
