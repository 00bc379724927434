import { describe, expect, it } from 'vitest';
import { scenarios } from '@/lib/analysis/backtest/fleet-scenarios';
import { observedSegment } from '@/lib/analysis/backtest/observed-segment';
import { simulateFleet } from '@/lib/analysis/backtest/simulate-fleet';
import { toKilopascals } from '@/lib/measure';

const limit = 68.9;
const visits = (...idles: number[]) => idles.map((idleSle, k) => ({ day: 91 * k, idleSle }));

describe('observedSegment, by hand', () => {
  it('sets the crossing between the visits on either side of the limit', () => {
    const seen = observedSegment('U1', visits(90, 88, 86, 66, 65), false, limit);
    // 182 + 91 × (86 − 68.9) / (86 − 66) = 259.8
    expect(seen).toMatchObject({ crossing: 260, isStable: false, crossedInService: true });
    expect(seen?.points).toHaveLength(4);
  });

  it('takes one low reading for a crossing only where a repair bears it out', () => {
    const once = visits(90, 88, 86, 66);
    expect(observedSegment('U1', once, true, limit)?.crossing).toBe(260);
    expect(observedSegment('U1', once, false, limit)).toBeNull();
    expect(
      observedSegment('U1', visits(90, 88, 60, 88, 90, 90), false, limit)?.crossing,
    ).toBeNull();
  });

  it('leaves the last year of an unbroken history out, since it is not proved yet', () => {
    const seen = observedSegment('U1', visits(90, 90, 90, 90, 90, 90, 90), false, limit);
    expect(seen).toMatchObject({ crossing: null, isStable: true });
    expect(seen?.points.map(({ day }) => day)).toEqual([0, 91]);
  });

  it('says nothing of a unit repaired in time, read too seldom, or low from the start', () => {
    expect(observedSegment('U1', visits(90, 88, 86, 80, 75), true, limit)).toBeNull();
    expect(observedSegment('U1', visits(90, 88, 86), false, limit)).toBeNull();
    expect(observedSegment('U1', visits(60, 60, 60, 60), false, limit)).toBeNull();
    const years = visits(90, 88, 66, 65).map(({ day, idleSle }) => ({ day: 5 * day, idleSle }));
    expect(observedSegment('U1', years.slice(0, 3), true, limit)).toBeNull();
    expect(observedSegment('U1', visits(60, 60, 60, 60, 60, 60), false, limit)).toBeNull();
  });

  it('takes a reading at the limit itself for none below it', () => {
    const at = visits(90, 88, limit, limit, limit, limit, limit);
    expect(observedSegment('U1', at, false, limit)).toMatchObject({ crossing: null });
  });

  it('takes a whole year for proof, and knows of no error, no sudden failure and no end in service', () => {
    const points = [0, 91, 182, 273, 273 + 365].map((day) => ({ day, idleSle: 90 }));
    expect(observedSegment('U1', points, false, limit)).toEqual({
      ...{ unit: 'U1', points: points.slice(0, 4), isInError: [false, false, false, false] },
      ...{ isStable: true, isSudden: false, crossing: null, crossedInService: false },
    });
  });
});

describe('observedSegment, against a simulated truth', () => {
  const psi10 = toKilopascals(10, 'psi');
  const fleet = simulateFleet(scenarios.A!, 3);
  const pairs = fleet.flatMap((truth) => {
    const seen = observedSegment(truth.unit, truth.points, truth.crossedInService, psi10);
    return seen ? [{ truth, seen }] : [];
  });

  it('calls almost no sound segment crossed, and dates a crossing within a reading interval', () => {
    const stable = pairs.filter(({ truth }) => truth.isStable);
    const crossed = pairs.filter(({ truth, seen }) => truth.crossing !== null && seen.crossing);
    expect(stable.length).toBeGreaterThan(50);
    expect(crossed.length).toBeGreaterThan(20);
    expect(stable.filter(({ seen }) => seen.crossing !== null).length).toBeLessThan(
      stable.length / 100,
    );
    const errors = crossed
      .map(({ truth, seen }) => Math.abs(seen.crossing! - truth.crossing!))
      .sort((a, b) => a - b);
    expect(errors[errors.length >> 1]).toBeLessThan(46);
  });
});
