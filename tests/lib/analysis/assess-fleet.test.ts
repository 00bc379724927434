import { describe, expect, it } from 'vitest';
import {
  assessFleet,
  byNeed,
  fleetBeltRateOf,
  noiseOf,
  priorOf,
  wearSegmentsOf,
} from '@/lib/analysis/assess-fleet';
import { defaultFleetPrior } from '@/lib/analysis/fleet-prior';
import { defaultLimits } from '@/lib/analysis/limits';
import { fromKilopascals } from '@/lib/measure';
import { aUnit, fitted, psi, quarterly, readingOn } from '../../support/a-unit';
import { inventedAssessment, noPassage } from '../../support/invented-assessment';
import { randomFrom } from '../../support/random';

const asOf = 20_000;
const named = (unit: string, change: Parameters<typeof aUnit>[0] = {}) => {
  const { unit: facts, readings, fitments } = aUnit(change);
  return { unit: { ...facts, unit }, readings, fitments, vacuumOrderClosedOn: null };
};
const fleet = [
  named('A'),
  named('B', { readings: [] }),
  named('C', { readings: quarterly(asOf - 5, [13, 12.4, 11.7, 11.2, 10.6]) }),
  named('D', { readings: [readingOn(asOf - 5, { idle: psi(9), lowest: psi(8.5) })] }),
  named('E', { readings: [readingOn(asOf - 5, { pedal: 'hard' })] }),
];
const judged = (units: typeof fleet) =>
  assessFleet({ units, limits: defaultLimits, prior: defaultFleetPrior, asOf });

describe('a fleet', () => {
  it('is ranked by need: worst mark, then earliest edge', () => {
    const ranked = judged(fleet).map(({ unit, mark }) => `${unit} ${mark}`);
    expect(ranked[0]).toBe('E Out of service');
    expect(ranked.slice(1, 3).toSorted()).toEqual(['C Book in', 'D Book in']);
    expect(ranked.slice(3)).toEqual(['B Unread', 'A Holding']);
    expect(judged(fleet.toReversed())).toEqual(judged(fleet));
    expect(judged([])).toEqual([]);
  });

  it('within a mark by the earliest edge, then the higher wear score, then the name', () => {
    const unit = (name: string, earliestEdge: number | null, score: number | null) =>
      inventedAssessment(name, {
        mark: 'Book in',
        earliestEdge,
        wear: { ...noPassage, score },
      });
    const ordered = [
      unit('Z', 100, null),
      unit('Y', 200, 0.3),
      unit('B', 200, 0.2),
      unit('C', 200, 0.2),
      unit('X', null, 0.9),
      unit('W', null, null),
    ];
    for (const order of [
      [5, 4, 3, 2, 1, 0],
      [2, 3, 0, 5, 1, 4],
    ])
      expect(byNeed(order.map((k) => ordered[k]!)).map((one) => one.unit)).toEqual(
        ordered.map((one) => one.unit),
      );
  });

  it('lends its mileage to a unit with little history', () => {
    const odometers = [0, 91, 182, 273].map((ago) => 50_000 - 40 * ago);
    const old = named('F', {
      readings: quarterly(asOf, [13, 13, 13, 13]).map((reading, k) => ({
        ...reading,
        odometer: odometers[3 - k] ?? null,
      })),
    });
    const belt = { ...fitted('belt', asOf - 10), fittedOdometer: 1_000 };
    const young = named('G', {
      readings: [readingOn(asOf, { odometer: 1_400 })],
      fitments: [belt],
    });
    const rate = judged([old, young]).find(({ unit }) => unit === 'G')?.belt.rate;
    expect(rate).toBeCloseTo(40, 0);
  });

  it('has the mileage of its odometers up to the day, and none without a history', () => {
    // 40 km a day up to the day, 400 afterwards; one odometer was not read.
    const readings = [-300, -200, -100, 0, 50].map((ago, k) =>
      readingOn(asOf + ago, {
        odometer: k === 1 ? null : 50_000 + (ago <= 0 ? 40 : 400) * ago,
      }),
    );
    expect(fleetBeltRateOf([{ readings }], asOf)).toBeCloseTo(40, 9);
    // The reading of the day itself counts: without it there are 20 days, too few.
    const lately = [readingOn(asOf - 50, { odometer: 1000 }), readingOn(asOf, { odometer: 3000 })];
    expect(fleetBeltRateOf([{ readings: lately }], asOf)).toBeCloseTo(40, 9);
    expect(fleetBeltRateOf([{ readings: lately }], asOf - 1)).toBeNull();
    expect(
      fleetBeltRateOf([{ readings: [] }, { readings: readings.slice(1, 2) }], asOf),
    ).toBeNull();
  });

  it('teaches its own noise: half a psi here', () => {
    const { normal } = randomFrom(1);
    const units = Array.from({ length: 120 }, (_, u) =>
      named(`U${u}`, {
        readings: quarterly(
          asOf,
          Array.from({ length: 12 }, () => 13 + 0.5 * normal()),
        ),
      }),
    );
    const prior = noiseOf(units, asOf);
    expect(prior.noise).toBeGreaterThan(0.44);
    expect(prior.noise).toBeLessThan(0.54);
    expect(prior.startLevel).toBeCloseTo(13, 1);
    expect(noiseOf([], asOf)).toEqual(defaultFleetPrior);
    expect(priorOf([], asOf)).toEqual(defaultFleetPrior);
  });

  it('learns from segments, not across repairs', () => {
    const unit = named('H', { fitments: [fitted('pump', asOf - 200)] });
    const segments = wearSegmentsOf({ ...unit, asOf });
    expect(segments.map((points) => points.length)).toEqual([2, 3]);
    expect(fromKilopascals(segments[1]?.[0]?.idleSle ?? 0, 'psi')).toBeCloseTo(12.9, 6);
    expect(wearSegmentsOf({ ...unit, asOf: asOf - 300 })).toHaveLength(1);
    // A reading of the day of a repair counts once, after it.
    const onTheDay = named('I', { fitments: [fitted('pump', asOf - 10 - 91)] });
    expect(wearSegmentsOf({ ...onTheDay, asOf }).map((points) => points.length)).toEqual([3, 2]);
  });
});
