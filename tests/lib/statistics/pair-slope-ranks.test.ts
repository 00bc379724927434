import { expect, it } from 'vitest';
import { pairSlopeRanks } from '@/lib/statistics/pair-slope-ranks';
import { seededRandom } from '@/lib/statistics/seeded-random';

const { normal, uniform } = seededRandom(11);
const histories: [string, (i: number) => [number, number]][] = [
  ['a noisy line', (i) => [i, 0.4 * i + normal()]],
  ['scattered days, some shared', (i) => [Math.floor(20 * uniform()), normal() + (i % 3)]],
  ['tenths with a far error', (i) => [7 * i, i === 9 ? 900 : Math.round(10 * normal()) / 10]],
  ['a line without error', (i) => [i, 3 - 2 * i]],
  ['steep pairs', (i) => [i < 5 ? 1e-9 * i : i, normal()]],
];

it.each(histories)('of %s are those of the sorted slopes, wherever the window lies', (_, point) => {
  for (const n of [3, 20, 45, 46, 90]) {
    const points = Array.from({ length: n }, (__, i) => point(i));
    const x = Float64Array.from(points, ([value]) => value);
    const y = Float64Array.from(points, ([, value]) => value);
    const sorted = points
      .flatMap(([xi, yi], i) => points.slice(0, i).map(([xj, yj]) => (yi - yj) / (xi - xj)))
      .filter(Number.isFinite)
      .sort((a, b) => a - b);
    const last = sorted.length - 1;
    for (const ranks of [
      [0, 0, last, last],
      [last >> 2, last >> 1, (last + 1) >> 1, (3 * last) >> 2],
      [last >> 1, last >> 1, last >> 1, last >> 1],
    ])
      for (const errorsWide of [0.01, 1, 4, 1e6]) {
        const out = new Float64Array(4);
        pairSlopeRanks(x, y, n, Int32Array.from(ranks), errorsWide, out);
        expect([...out], `${n} at ${ranks} within ${errorsWide}`).toEqual(
          ranks.map((rank) => sorted[rank]),
        );
      }
  }
});
