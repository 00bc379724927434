import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { median, medianAbsoluteDeviation, medianInPlace } from '@/lib/statistics/median';
import { selectRank } from '@/lib/statistics/select-rank';

const inOrder = (values: Iterable<number>) => [...values].sort((a, b) => a - b);
/** Ties are frequent, and sizes on both sides of where sorting by insertion takes over. */
const values = fc.oneof(
  fc.integer({ min: 0, max: 9 }),
  fc.double({ min: -1e6, max: 1e6, noNaN: true }).map((value) => value + 0),
);
const lists = fc.array(values, { minLength: 1, maxLength: 60 });
const middleOf = (values: readonly number[]): number => {
  const sorted = inOrder(values);
  const half = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2;
};

describe('selectRank', () => {
  it('puts the rank in its place, less before it and more after, and touches nothing outside', () => {
    fc.assert(
      fc.property(lists, fc.nat(), fc.nat(), fc.nat(), (list, a, b, c) => {
        const [lower, rank, upper] = inOrder([a, b, c].map((n) => n % list.length)) as [
          number,
          number,
          number,
        ];
        const values = Float64Array.from(list);
        const found = selectRank(values, lower, upper, rank);
        const within = values.slice(lower, upper + 1);
        expect(found).toBe(values[rank]);
        expect(inOrder(within)).toEqual(inOrder(list.slice(lower, upper + 1)));
        expect(found).toBe(inOrder(within)[rank - lower]);
        for (let k = lower; k < rank; k++) expect(values[k]).toBeLessThanOrEqual(found);
        for (let k = rank + 1; k <= upper; k++) expect(values[k]).toBeGreaterThanOrEqual(found);
        expect([...values.subarray(0, lower)]).toEqual(list.slice(0, lower));
        expect([...values.subarray(upper + 1)]).toEqual(list.slice(upper + 1));
      }),
      { numRuns: 300 },
    );
  });
});

describe('median', () => {
  it('is the middle of the sorted values, or between the two', () => {
    fc.assert(
      fc.property(lists, (list) => {
        expect(median(list)).toBe(middleOf(list));
      }),
      { numRuns: 300 },
    );
  });

  it('in place looks at the first values only', () => {
    expect(medianInPlace(Float64Array.of(3, 1, 2, 99, 99), 3)).toBe(2);
    expect(medianInPlace(Float64Array.of(4, 1, 2, 3, 99), 4)).toBe(2.5);
  });

  it('of deviations: of 1, 2, 3, 7, 100 the deviations are 2, 1, 0, 4, 97', () => {
    expect(medianAbsoluteDeviation([1, 2, 3, 7, 100])).toBeCloseTo(2 * 1.4826, 12);
  });
});
