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
  expect(fit.criterion! - answer.reml).toBeGreaterThan(-0.01);
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

// Balanced, with t summing to nought, restricted likelihood is the analysis of variance (Searle,
// Casella and McCulloch, Variance Components, 1992, section 4.8): moments of each unit's own line.
describe('random slopes of balanced units', () => {
  const t = [-2, -1, 0, 1, 2];
  const rows = [
    [9.1, 11.2, 12.8, 15.1, 17.2],
    [18.0, 19.4, 19.6, 21.9, 22.3],
    [3.2, 6.9, 9.8, 14.1, 17.4],
    [14.1, 13.9, 15.2, 15.1, 16.3],
  ];
  const sum = (values: number[]) => values.reduce((total, value) => total + value, 0);
  const meanOf = (values: number[]) => sum(values) / values.length;
  const levels = rows.map(meanOf);
  const slopes = rows.map((y) => sum(y.map((value, i) => value * t[i]!)) / 10);
  const between = (a: number[], b: number[]) =>
    sum(a.map((value, i) => (value - meanOf(a)) * (b[i]! - meanOf(b)))) / (a.length - 1);
  const squares = sum(
    rows.flatMap((y, u) => y.map((value, i) => (value - levels[u]! - slopes[u]! * t[i]!) ** 2)),
  );
  const variance = squares / (rows.length * (t.length - 2));
  const levelVariance = between(levels, levels) - variance / t.length;
  const slopeVariance = between(slopes, slopes) - variance / 10;

  // What units differ from the fleet by sums to nought where each tells as much as another.
  it('the fleet is the mean of its units, at whatever time', () => {
    for (const later of [0, 3, 40]) {
      const { intercept, slope, units } = randomSlopes(
        rows.map((y) => ({ t: t.map((value) => value + later), y })),
      );
      expect(meanOf(units.map((unit) => unit.intercept))).toBeCloseTo(intercept!, 8);
      expect(meanOf(units.map((unit) => unit.slope))).toBeCloseTo(slope!, 8);
      expect(intercept! + slope! * later).toBeCloseTo(meanOf(levels), 8);
    }
  });

  it('have slopes in the unit of t', () => {
    const { slope } = randomSlopes(rows.map((y) => ({ t: t.map((value) => value * 2 ** -20), y })));
    expect(slope! / 2 ** 20).toBeCloseTo(meanOf(slopes), 8);
  });

  it('keep their figures far from nought', () => {
    const far = randomSlopes(rows.map((y) => ({ t, y: y.map((value) => value + 1e7) })));
    expect(far.intercept! - 1e7).toBeCloseTo(meanOf(levels), 6);
    expect(far.slope).toBeCloseTo(meanOf(slopes), 6);
    expect(far.residualError).toBeCloseTo(Math.sqrt(variance), 4);
  });

  it.each([true, false])('are the moments of their lines, correlated: %s', (correlated) => {
    const fit = randomSlopes(
      rows.map((y) => ({ t, y })),
      { correlated },
    );
    expect(fit.intercept).toBeCloseTo(meanOf(levels), 8);
    expect(fit.slope).toBeCloseTo(meanOf(slopes), 8);
    expect(fit.residualError).toBeCloseTo(Math.sqrt(variance), 4);
    expect(fit.interceptVariance! / levelVariance).toBeCloseTo(1, 3);
    expect(fit.slopeVariance! / slopeVariance).toBeCloseTo(1, 3);
    expect(fit.covariance).toBeCloseTo(correlated ? between(levels, slopes) : 0, 2);
    if (correlated) return;
    const shrunk = levelVariance / (levelVariance + variance / t.length);
    for (const [u, unit] of fit.units.entries())
      expect(unit.intercept).toBeCloseTo(
        meanOf(levels) + shrunk * (levels[u]! - meanOf(levels)),
        3,
      );
  });
});
