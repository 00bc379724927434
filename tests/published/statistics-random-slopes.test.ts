import { describe, expect, it } from 'vitest';
import { type RandomSlopes, randomSlopes } from '@/lib/statistics';
import { referenceCases } from './figures';

interface MixedFit {
  fixef: [number, number];
  sigma: number;
  reml: number;
  blup_slope: number[];
  singular: boolean;
}

interface MixedCase {
  id: string;
  unit: number[];
  t: number[];
  y: number[];
  uncorrelated: MixedFit;
  correlated: MixedFit;
}

function expectAgreement(fit: RandomSlopes, answer: MixedFit): void {
  expect(Math.abs(fit.intercept! - answer.fixef[0])).toBeLessThan(0.005);
  expect(Math.abs(fit.slope! - answer.fixef[1])).toBeLessThan(0.005);
  expect(Math.abs(fit.residualError! - answer.sigma)).toBeLessThan(0.005);
  // Both minimise the same criterion; ours must be at least as low.
  expect(fit.criterion! - answer.reml).toBeLessThan(1e-6);
  for (const [i, { slope }] of fit.units.entries()) {
    const expected = answer.fixef[1] + answer.blup_slope[i]!;
    expect(Math.abs(slope - expected), `unit ${i}`).toBeLessThan(0.005);
  }
}

describe('random slopes against R lme4 1.1.31 lmer, REML', () => {
  it.each(referenceCases<MixedCase>('mixed_model'))('$id', (answer) => {
    const names = [...new Set(answer.unit)];
    const histories = names.map((name) => {
      const rows = answer.unit.flatMap((unit, i) => (unit === name ? [i] : []));
      return { t: rows.map((i) => answer.t[i]!), y: rows.map((i) => answer.y[i]!) };
    });
    expectAgreement(randomSlopes(histories), answer.uncorrelated);
    expectAgreement(randomSlopes(histories, { correlated: true }), answer.correlated);
  });
});
