import { describe, expect, it } from 'vitest';
import { exponentialOfMinus, normalBelow } from '@/lib/analysis/wear/normal-table';

describe('normalBelow', () => {
  // Abramowitz and Stegun (1964), table 26.1 (15 decimals of P), from memory, confirmed with SciPy 1.17.1 ndtr.
  it.each([
    [0, 0.5],
    [0.5, 0.691462461274013],
    [1, 0.841344746068543],
    [1.959963984540054, 0.975],
    [2, 0.977249868051821],
    [3, 0.99865010196837],
    [-1.2815515655446004, 0.1],
    [-4, 0.0000316712418331199],
  ])('at %f is %f', (x, p) => {
    expect(Math.abs(normalBelow(x) - p)).toBeLessThan(3e-10);
  });

  it('is symmetric and never falls', () => {
    let last = 0;
    for (let x = -9; x <= 9; x += 0.0137) {
      const p = normalBelow(x);
      expect(Math.abs(p + normalBelow(-x) - 1)).toBeLessThan(4e-12);
      expect(p).toBeGreaterThanOrEqual(last - 1e-12);
      last = p;
    }
    expect(normalBelow(-40)).toBe(0);
    expect(normalBelow(40)).toBe(1);
  });
});

describe('exponentialOfMinus', () => {
  it('agrees with the language to 2e-12', () => {
    for (let x = 0; x < 40; x += 0.0173)
      expect(Math.abs(exponentialOfMinus(x) / Math.exp(-x) - 1)).toBeLessThan(2e-12);
    expect(exponentialOfMinus(1e6)).toBe(0);
  });
});
