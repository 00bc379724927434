import { describe, expect, it } from 'vitest';
import { backSubstitute, triangularise } from '@/lib/statistics/triangularise';

const plain = (rows: readonly Float64Array[]) => rows.map((row) => [...row]);

describe('triangularise', () => {
  it('by hand: a mirror turns the column to its length, against its own sign', () => {
    const { r, rotated, residualSquares, hasFullRank } = triangularise([[3], [4]], [1, 2]);
    expect(plain(r)).toEqual([[-5]]);
    expect(rotated).toHaveLength(1);
    // (3 + 8) / 5 of 1, 2 lies along the column, and 1 + 4 less its square does not.
    expect(rotated[0]).toBeCloseTo(-11 / 5, 14);
    expect(residualSquares).toBeCloseTo(4 / 25, 14);
    expect(hasFullRank).toBe(true);
  });

  it.each([1, -1])('takes columns that lie along the axes already, sign %d', (sign) => {
    const rows = [
      [sign, 0],
      [0, sign],
      [0, 0],
    ];
    const { r, rotated, residualSquares } = triangularise(rows, [5, 7, 2]);
    expect(plain(r)).toEqual([
      [-sign, 0],
      [0, -sign],
    ]);
    expect(backSubstitute(r, rotated)).toEqual([sign * 5, sign * 7]);
    expect(residualSquares).toBe(4);
  });

  it('a column is a combination of others whatever its unit', () => {
    const rows = (third: number) => [
      [1, 2, 3],
      [1, 4, 5],
      [1, 9, 10],
      [1, 5, 6 + third],
    ];
    for (const unit of [1e-20, 1, 1e20]) {
      const ranked = (third: number) =>
        triangularise(
          rows(third).map((row) => row.map((value) => value * unit)),
          [1, 2, 3, 4],
        ).hasFullRank;
      expect(ranked(0)).toBe(false);
      expect(ranked(1e-9)).toBe(true);
    }
  });

  it('more columns than rows depend on each other', () => {
    expect(triangularise([[1, 2, 4]], [1])).toMatchObject({
      hasFullRank: false,
      residualSquares: 0,
    });
  });
});
