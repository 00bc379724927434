import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { dayFromIso } from '@/lib/calendar';
import { lineagesOf, type PartNeed, type PartStock } from '@/lib/planning/part-stock';
import { partsToOrder } from '@/lib/planning/parts-to-order';
import { countQuantile, poissonBinomial } from '@/lib/planning/poisson-binomial';
import { readyByParts } from '@/lib/planning/ready-by-parts';

const asOf = dayFromIso('2026-01-07')!;
const monday = dayFromIso('2026-01-05')!;
const pump = (revision: string, changes: Partial<PartStock> = {}): PartStock => ({
  partNumber: 'VP-1',
  revision,
  description: 'Vacuum pump',
  supersededBy: null,
  inStock: 0,
  leadTimeDays: 21,
  ...changes,
});
const need = (week: number, changes: Partial<PartNeed> = {}): PartNeed => ({
  partNumber: 'VP-1',
  revision: null,
  neededOn: monday + 7 * week,
  probability: 1,
  ...changes,
});

describe('poissonBinomial', () => {
  it('of two even chances', () => {
    const two = poissonBinomial([0.5, 0.5]);
    expect(two).toEqual({ least: 0, masses: [0.25, 0.5, 0.25] });
    expect(poissonBinomial([])).toEqual({ least: 0, masses: [1] });
    expect(countQuantile(two, 0.75)).toBe(1);
    expect(countQuantile(two, 0.76)).toBe(2);
    expect(poissonBinomial([1, 0, 1])).toEqual({ least: 2, masses: [1] });
  });

  // With equal chances it is the binomial distribution: C(n, k) p^k (1 − p)^(n − k).
  it('is binomial where all chances are equal', () => {
    const [n, p] = [30, 0.17];
    let expected = (1 - p) ** n;
    const { least, masses } = poissonBinomial(Array(n).fill(p));
    expect(least).toBe(0);
    masses.forEach((mass, k) => {
      expect(Math.abs(mass - expected)).toBeLessThan(1e-14);
      expected *= ((n - k) / (k + 1)) * (p / (1 - p));
    });
  });

  // Past a few hundred trials the normal distribution, corrected by half a piece, is as good.
  it('stays quick and right with thousands of trials', () => {
    const chances = Array.from({ length: 20_000 }, (_, k) => 0.05 + (k % 7) / 20);
    const mean = chances.reduce((sum, q) => sum + q, 0);
    const deviation = Math.sqrt(chances.reduce((sum, q) => sum + q * (1 - q), 0));
    const begun = performance.now();
    const count = poissonBinomial(chances);
    expect(performance.now() - begun).toBeLessThan(1000);
    for (const [probability, deviate] of [
      [0.1, -1.2815515655446004],
      [0.5, 0],
      [0.9, 1.2815515655446004],
    ] as const) {
      const expected = mean + deviate * deviation;
      expect(Math.abs(countQuantile(count, probability) - expected)).toBeLessThan(1);
    }
  });

  // Sums of independent trials: mean Σ p, variance Σ p (1 − p).
  it('has the mean and variance of independent trials', () => {
    const chances = fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { maxLength: 60 });
    fc.assert(
      fc.property(chances, (p) => {
        const { least, masses } = poissonBinomial(p);
        const moment = (order: number): number =>
          masses.reduce((sum, mass, k) => sum + mass * (least + k) ** order, 0);
        const mean = p.reduce((sum, q) => sum + q, 0);
        expect(moment(0)).toBeCloseTo(1, 10);
        expect(moment(1)).toBeCloseTo(mean, 8);
        expect(moment(2) - moment(1) ** 2).toBeCloseTo(
          p.reduce((s, q) => s + q * (1 - q), 0),
          6,
        );
      }),
    );
  });
});

describe('lineagesOf', () => {
  it('orders revisions from the oldest to the one that replaced them all', () => {
    const stock = [
      pump('C'),
      pump('A', { supersededBy: 'B' }),
      pump('B', { supersededBy: 'C' }),
      pump('X', { partNumber: 'BELT' }),
    ];
    const found = lineagesOf(stock).map((lineage) => lineage.map(({ revision }) => revision));
    expect(found).toEqual([['A', 'B', 'C'], ['X']]);
  });

  it('keeps every revision once, whatever is said to replace what', () => {
    const revisions = ['A', 'B', 'C', 'D'];
    const successors = fc.tuple(
      ...revisions.map(() => fc.constantFrom(null, 'A', 'B', 'C', 'D', 'missing')),
    );
    fc.assert(
      fc.property(successors, (replaced) => {
        const stock = revisions.map((revision, at) =>
          pump(revision, { supersededBy: replaced[at]! }),
        );
        const found = lineagesOf(stock).flat();
        expect(found.map(({ revision }) => revision).sort()).toEqual(revisions);
      }),
    );
  });
});

describe('partsToOrder', () => {
  it('orders a lead time before the stock runs out', () => {
    const { parts } = partsToOrder(
      [need(4), need(5), need(5), need(8)],
      [pump('A', { inStock: 2 })],
      asOf,
    );
    expect(parts[0]).toMatchObject({
      inStock: 2,
      toOrder: 2,
      shortFrom: monday + 35,
      orderBy: monday + 14,
      isLate: false,
    });
    expect(parts[0]!.needs.map(({ expected }) => expected)).toEqual([1, 3, 4]);
  });

  it('is late when the lead time is longer than the time left', () => {
    const { parts } = partsToOrder([need(1)], [pump('A')], asOf);
    expect(parts[0]).toMatchObject({ orderBy: monday - 14, isLate: true });
  });

  // Binomial, n 10, p 0.2: P(X ≤ 3) = .8791, P(X ≤ 4) = .9672; P(X ≤ 0) = .1074 (common tables).
  it('sees forecast work as a count with an interval', () => {
    const forecast = Array.from({ length: 10 }, () => need(6, { probability: 0.2 }));
    const { parts } = partsToOrder(forecast, [pump('A', { inStock: 3 })], asOf);
    expect(parts[0]!.needs).toHaveLength(1);
    expect(parts[0]!.needs[0]).toMatchObject({ low80: 0, high80: 4 });
    expect(parts[0]!.needs[0]!.expected).toBeCloseTo(2, 12);
    expect(parts[0]!.toOrder).toBe(1);
    expect(partsToOrder(forecast, [pump('A', { inStock: 4 })], asOf).parts[0]).toMatchObject({
      toOrder: 0,
      orderBy: null,
    });
  });

  it('lets a newer revision do for an older one, not the other way round', () => {
    const stock = (older: number, newer: number) => [
      pump('A', { supersededBy: 'B', inStock: older }),
      pump('B', { inStock: newer }),
    ];
    const toOrder = (needs: readonly PartNeed[], older: number, newer: number) =>
      partsToOrder(needs, stock(older, newer), asOf).parts[0]!.toOrder;
    const [anyWillDo, onlyNewer] = [need(3, { revision: 'A' }), need(3, { revision: 'B' })];
    expect(toOrder([anyWillDo], 0, 1)).toBe(0);
    expect(toOrder([onlyNewer], 1, 0)).toBe(1);
    expect(toOrder([anyWillDo, onlyNewer], 1, 1)).toBe(0);
    expect(toOrder([anyWillDo, onlyNewer, onlyNewer], 2, 1)).toBe(1);
  });

  it('names needs whose part nobody keeps', () => {
    const unheard = need(1, { partNumber: 'GASKET' });
    expect(partsToOrder([unheard], [pump('A')], asOf).notListed).toEqual([unheard]);
  });
});

describe('readyByParts', () => {
  it('gives the stock to the work wanted first', () => {
    const stock = [
      pump('A', { supersededBy: 'B', inStock: 1 }),
      pump('B', { inStock: 1, leadTimeDays: 14 }),
    ];
    const jobWith = (jobId: string, wantedBy: number | null, revision: string | null) => ({
      jobId,
      wantedBy,
      parts: [{ partNumber: 'VP-1', revision }],
    });
    const ready = readyByParts(
      [
        jobWith('whenever', null, null),
        jobWith('later', asOf + 30, 'B'),
        jobWith('soon', asOf + 3, 'A'),
        { jobId: 'no parts', wantedBy: null, parts: [] },
        { jobId: 'unheard', wantedBy: null, parts: [{ partNumber: 'GASKET', revision: null }] },
      ],
      stock,
      asOf,
    );
    expect(Object.fromEntries(ready)).toEqual({
      soon: asOf,
      later: asOf,
      whenever: asOf + 14,
      'no parts': asOf,
      unheard: null,
    });
  });
});
