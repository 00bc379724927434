import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cleanOdometers, type OdometerEntry } from '@/lib/analysis/odometer';
import { dayAtDistance, distanceOnDay, placeDistance } from '@/lib/analysis/odometer-place';
import { dayFromIso } from '@/lib/calendar';
import { toKilometres } from '@/lib/measure';

const miles = (value: number) => toKilometres(value, 'mi');
const entries = (...odometers: number[]): OdometerEntry[] =>
  odometers.map((odometer, index) => ({
    readingId: `r${index}`,
    day: 91 * index,
    odometer: miles(odometer),
  }));
const asideOf = (...odometers: number[]) =>
  cleanOdometers(entries(...odometers)).setAside.map(({ readingId }) => readingId);

describe('cleaning odometers', () => {
  it('keeps a chain that can have been driven', () => {
    expect(asideOf(10_000, 14_000, 18_500, 22_000)).toEqual([]);
    expect(cleanOdometers([])).toEqual({ kept: [], setAside: [] });
    expect(cleanOdometers(entries(5)).kept).toHaveLength(1);
  });

  it('sets aside a missing digit, kilometres for miles and swapped digits', () => {
    const example = [16_093, 1_690, 20_921].map((odometer, index) => ({
      readingId: `r${index}`,
      day: 91 * index,
      odometer,
    }));
    expect(cleanOdometers(example).setAside).toEqual([example[1]]);
    expect(asideOf(10_000, 1_400, 18_500, 22_000)).toEqual(['r1']);
    expect(asideOf(30_000, 34_000, 61_155, 42_000, 46_000)).toEqual(['r2']);
    expect(asideOf(30_000, 34_000, 83_000, 42_000, 46_000)).toEqual(['r2']);
  });

  it('of two that cannot both be true keeps the one at which the unit usually drives', () => {
    // Five quarters at a steady rate; then, a day apart, 200 and 22 miles a day since.
    const afterwards = (rate: number) => {
      const steady = entries(...[0, 1, 2, 3, 4].map((k) => 5000 + k * 91 * rate));
      const last = 5000 + 4 * 91 * rate;
      const odd = [
        { readingId: 'fast', day: 455, odometer: miles(last + 91 * 200) },
        { readingId: 'slow', day: 456, odometer: miles(last + 92 * 22) },
      ];
      return cleanOdometers([...steady, ...odd]).setAside.map(({ readingId }) => readingId);
    };
    expect(afterwards(200)).toEqual(['slow']);
    expect(afterwards(22)).toEqual(['fast']);
  });

  it('takes a missing digit for a missing digit, not for a rollover, though both could be driven', () => {
    // 99,000 then 9,950 and 99,900 miles: rolled over, 9,950 would be 10,950 miles on in a quarter.
    expect(asideOf(97_000, 98_000, 99_000, 9_950, 99_900)).toEqual(['r3']);
  });

  it('carries on through a rollover', () => {
    const { kept, setAside } = cleanOdometers(entries(90_000, 94_000, 98_500, 2_000, 6_500));
    expect(setAside).toEqual([]);
    expect(kept.at(-1)!.distance).toBeCloseTo(miles(106_500), 6);
    // 8 mi short of a million.
    const million = cleanOdometers(entries(991_000, 995_500, 999_992, 4_500, 9_000));
    expect(million.kept.at(-1)!.distance).toBeCloseTo(miles(1_009_000), 6);
  });

  it('never turns back, never exceeds 400 mi a day, loses nothing', () => {
    const entry = fc.record({
      readingId: fc.uuid(),
      day: fc.integer({ min: 0, max: 4000 }),
      odometer: fc.double({ min: 0, max: 2e6, noNaN: true }),
    });
    fc.assert(
      fc.property(fc.array(entry, { maxLength: 40 }), (list) => {
        const { kept, setAside } = cleanOdometers(list);
        expect(kept.length + setAside.length).toBe(list.length);
        kept.slice(1).forEach((to, index) => {
          const from = kept[index]!;
          const step = to.distance - from.distance;
          expect(step).toBeGreaterThanOrEqual(0);
          expect(step).toBeLessThanOrEqual(miles(400) * Math.max(1, to.day - from.day) + 1e-6);
        });
      }),
    );
  });

  it('keeps every entry of a unit that drives steadily, wherever its odometer stands', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 95_000, noNaN: true }),
        fc.double({ min: 5, max: 200, noNaN: true }),
        fc.integer({ min: 1, max: 20 }),
        (start, rate, count) => {
          const list = entries(
            ...Array.from({ length: count }, (_, i) => (start + rate * 91 * i) % 100_000),
          );
          expect(cleanOdometers(list).setAside).toEqual([]);
        },
      ),
    );
  });
});

// Simulated elsewhere with known truth; see odometers.md beside the figures.
it('catches nine in ten gross errors of the given fleet and rejects few good entries', () => {
  const rows = readFileSync(
    new URL('../../published/figures/odometers.csv', import.meta.url),
    'utf8',
  )
    .trim()
    .split('\n')
    .slice(1)
    .map((line) => line.split(','));
  const byUnit = new Map<string, string[][]>();
  for (const row of rows) byUnit.set(row[0]!, [...(byUnit.get(row[0]!) ?? []), row]);
  let good = 0;
  let goodAside = 0;
  let gross = 0;
  let grossAside = 0;
  for (const history of byUnit.values()) {
    const list = history.map(([, readOn, odometer], index) => ({
      readingId: String(index),
      day: dayFromIso(readOn!)!,
      odometer: miles(Number(odometer)),
    }));
    const aside = new Set(cleanOdometers(list).setAside.map(({ readingId }) => Number(readingId)));
    const sound = list.filter((_, index) => history[index]![3] === 'none');
    list.forEach((entry, index) => {
      const isGood = history[index]![3] === 'none';
      if (isGood) good++;
      if (isGood && aside.has(index)) goodAside++;
      const before = sound.findLast(({ day }) => day < entry.day);
      const after = sound.find(({ day }) => day > entry.day);
      if (isGood || !before || !after) return;
      const share = (entry.day - before.day) / (after.day - before.day);
      const expected = before.odometer + share * (after.odometer - before.odometer);
      if (Math.abs(entry.odometer - expected) < miles(3_500)) return;
      gross++;
      if (aside.has(index)) grossAside++;
    });
  }
  expect(gross).toBeGreaterThan(50);
  expect(grossAside / gross).toBeGreaterThanOrEqual(0.9);
  expect(goodAside / good).toBeLessThanOrEqual(0.007);
});

describe('places on the continued scale', () => {
  const { kept } = cleanOdometers(entries(90_000, 94_000, 98_500, 2_000, 6_500));

  it('go both ways', () => {
    expect(distanceOnDay(kept, 91)).toBeCloseTo(miles(94_000), 6);
    expect(dayAtDistance(kept, miles(92_000))).toBeCloseTo(45.5, 6);
    expect(distanceOnDay(kept, -5)).toBe(kept[0]!.distance);
    expect(distanceOnDay(kept, 9999)).toBe(kept.at(-1)!.distance);
    expect(dayAtDistance(kept, 1)).toBe(kept[0]!.day);
    expect(dayAtDistance(kept, 1e9)).toBe(kept.at(-1)!.day);
    for (const { day, distance } of kept) {
      expect(distanceOnDay(kept, day)).toBeCloseTo(distance, 6);
      expect(dayAtDistance(kept, distance)).toBeCloseTo(day, 6);
    }
  });

  it('put an odometer on the turn its day belongs to', () => {
    expect(placeDistance(kept, miles(3_000), 290)).toBeCloseTo(miles(103_000), 6);
    expect(placeDistance(kept, miles(95_000), 110)).toBeCloseTo(miles(95_000), 6);
    expect(placeDistance(kept, miles(3_000), null)).toBeCloseTo(miles(103_000), 6);
    expect(placeDistance(kept, miles(50_000), 182)).toBeCloseTo(miles(98_500), 6);
    // Without a day as far as the unit has come, but no further than it has been.
    expect(placeDistance(kept, miles(6_500), null)).toBeCloseTo(miles(106_500), 6);
    expect(placeDistance(kept, miles(7_000), null)).toBeCloseTo(miles(7_000), 6);
    expect(placeDistance(kept, miles(200_000), null)).toBeCloseTo(miles(200_000), 6);
  });

  it('believe the day where both disagree by more than 12,000 miles, while it is covered', () => {
    const at = (odometer: number, day: number) => placeDistance(kept, miles(odometer), day);
    expect(at(86_600, 182)).toBeCloseTo(miles(86_600), 6);
    expect(at(86_400, 182)).toBeCloseTo(miles(98_500), 6);
    expect(at(70_000, 0)).toBeCloseTo(miles(90_000), 6);
    expect(at(70_000, 364)).toBeCloseTo(miles(106_500), 6);
    expect(at(70_000, -1)).toBeCloseTo(miles(70_000), 6);
    expect(at(140_000, 365)).toBeCloseTo(miles(140_000), 6);
  });
});
