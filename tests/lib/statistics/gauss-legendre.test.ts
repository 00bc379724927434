import { expect, it } from 'vitest';
import { gaussLegendre } from '@/lib/statistics/gauss-legendre';

it('nodes ascend, with the weights that make powers up to 2 n - 1 exact', () => {
  for (const count of [1, 2, 3, 8, 40]) {
    const { nodes, weights } = gaussLegendre(count, 1, 3);
    expect(nodes).toEqual(nodes.toSorted((a, b) => a - b));
    for (let power = 0; power < Math.min(2 * count, 20); power++) {
      const integral = nodes.reduce((sum, node, i) => sum + weights[i]! * node ** power, 0);
      expect(integral / ((3 ** (power + 1) - 1) / (power + 1))).toBeCloseTo(1, 12);
    }
  }
});

// Abramowitz and Stegun, table 25.4.
it('three nodes lie at 0 and the root of 3/5', () => {
  const { nodes, weights } = gaussLegendre(3, -1, 1);
  for (const [i, expected] of [-Math.sqrt(0.6), 0, Math.sqrt(0.6)].entries())
    expect(nodes[i]).toBeCloseTo(expected, 14);
  for (const [i, expected] of [5 / 9, 8 / 9, 5 / 9].entries())
    expect(weights[i]).toBeCloseTo(expected, 14);
});
