import { describe, expect, it } from 'vitest';
import { learnLowestSignal } from '@/lib/analysis/wear/combine-signals';
import type { WearVisit } from '@/lib/analysis/wear/wear-visits';
import { seededRandom } from '@/lib/statistics/seeded-random';

interface Fleet {
  readonly segments?: number;
  readonly visits?: number;
  readonly slope?: number;
  /** psi lost from each visit to the next. */
  readonly wear?: number;
  readonly idleNoise?: number;
  readonly lowestNoise?: number;
  /** Noise that idle and lowest share, such as a gauge's. */
  readonly shared?: number;
}

/** Units of differing level that wear evenly: lowest is 1.7 + slope idle but for noise. */
function fleetOf({
  segments = 150,
  visits = 12,
  slope = 0.56,
  wear = 0.3,
  idleNoise = 0.3,
  lowestNoise = 0.15,
  shared = 0,
}: Fleet): WearVisit[][] {
  const { normal } = seededRandom(5);
  return Array.from({ length: segments }, () => {
    const start = 13 + 0.4 * normal();
    return Array.from({ length: visits }, (_, k) => {
      const level = start - wear * k;
      const both = shared * normal();
      const idle = level + idleNoise * normal() + both;
      const lowest = 1.7 + slope * level + lowestNoise * normal() + both;
      return { day: 90 * k, idle, lowest, readings: [idle] };
    });
  });
}
const learnt = (fleet: Fleet) => learnLowestSignal(fleetOf(fleet));

/** Closed form: the weight of least variance, and the deviation of the difference in idle's terms. */
function expected({ slope = 0.56, idleNoise = 0.3, lowestNoise = 0.15, shared = 0 }: Fleet) {
  const idle = idleNoise ** 2 + shared ** 2;
  const lowest = (lowestNoise ** 2 + shared ** 2) / slope ** 2;
  const together = shared ** 2 / slope;
  const difference = idle + lowest - 2 * together;
  return { weight: (idle - together) / difference, deviation: Math.sqrt(difference) };
}

describe('learnLowestSignal against what was simulated', () => {
  it.each<Fleet>([
    { lowestNoise: 0.2 },
    { lowestNoise: 0.3 },
    { idleNoise: 0.2, lowestNoise: 0.3, slope: 0.9 },
    { idleNoise: 0.2, lowestNoise: 0.5, slope: 1.4, shared: 0.2 },
    { lowestNoise: 0.5, slope: 1.4, shared: 0.1 },
  ])('slope, intercept, weight and disagreement of %j', (fleet) => {
    const signal = learnt(fleet)!;
    const { weight, deviation } = expected(fleet);
    const { slope = 0.56 } = fleet;
    expect(Math.abs(signal.slope / slope - 1)).toBeLessThan(0.02);
    expect(Math.abs(signal.intercept + signal.slope * 11.3 - (1.7 + slope * 11.3))).toBeLessThan(
      0.03,
    );
    expect(Math.abs(signal.weight - weight)).toBeLessThan(0.05);
    expect(Math.abs(signal.disagreement / (4 * deviation) - 1)).toBeLessThan(0.06);
  });

  it('gives lowest half the say at most', () => {
    const fleet = { lowestNoise: 0.05 };
    expect(expected(fleet).weight).toBeGreaterThan(0.8);
    expect(learnt(fleet)!.weight).toBe(0.5);
  });

  it('slips of either, or of both along a line of their own, move it little', () => {
    const fleet = fleetOf({});
    const slipped = fleet.map((visits, unit) =>
      visits.map((visit, k) => {
        if (unit % 3 > 0 || k !== 2 + (unit % 8)) return visit;
        const idle = unit % 2 === 0 ? visit.idle / 2.04 : visit.idle;
        return { ...visit, idle, lowest: visit.lowest! / 2.04 };
      }),
    );
    const sound = learnLowestSignal(fleet)!;
    const signal = learnLowestSignal(slipped)!;
    expect(Math.abs(signal.slope - sound.slope)).toBeLessThan(0.01);
    expect(Math.abs(signal.weight - sound.weight)).toBeLessThan(0.05);
    expect(Math.abs(signal.disagreement / sound.disagreement - 1)).toBeLessThan(0.1);
  });
});

describe('learnLowestSignal is null', () => {
  it('below 100 pairs, in segments of three or more', () => {
    const quiet = { idleNoise: 0.1, lowestNoise: 0.05, wear: 0.5 };
    expect(learnt({ ...quiet, segments: 10, visits: 10 })).not.toBeNull();
    expect(learnt({ ...quiet, segments: 11, visits: 9 })).toBeNull();
    const most = fleetOf({ ...quiet, segments: 9, visits: 10 });
    const short = (visits: number, segments: number) => fleetOf({ ...quiet, segments, visits });
    expect(learnLowestSignal(most)).toBeNull();
    expect(learnLowestSignal([...most, ...short(3, 4)])).not.toBeNull();
    expect(learnLowestSignal([...most, ...short(2, 6)])).toBeNull();
  });

  it('where lowest hardly follows idle', () => {
    expect(learnt({ slope: 0.17, lowestNoise: 0.04 })).toBeNull();
    expect(learnt({ slope: 0.23, lowestNoise: 0.04 })).not.toBeNull();
    expect(learnt({ slope: -0.5 })).toBeNull();
  });

  it('where lowest does not help', () => {
    const idle = { idleNoise: 0.1, wear: 0.5 };
    expect(expected({ ...idle, lowestNoise: 0.4 }).weight).toBeLessThan(0.03);
    expect(learnt({ ...idle, lowestNoise: 0.4 })).toBeNull();
    expect(expected({ ...idle, lowestNoise: 0.2 }).weight).toBeGreaterThan(0.07);
    expect(learnt({ ...idle, lowestNoise: 0.2 })).not.toBeNull();
  });

  it('where the slope is not known to 6 %', () => {
    // By hand: neighbours share 0.15 - 0.16 / 8 = 0.13 psi squared of wear, slope 0.65, noise 0.227:
    // root(0.227 (0.13 + 0.16) / n) / 0.13 comes to 6 % of the slope at n = 2,590, 370 segments.
    const vague = { wear: 0.2, idleNoise: 0.4, lowestNoise: 0.4, visits: 8 };
    expect(learnt({ ...vague, segments: 280 })).toBeNull();
    expect(learnt({ ...vague, segments: 480 })).not.toBeNull();
  });
});

describe('learnLowestSignal keeps its answer', () => {
  const fleet = fleetOf({ segments: 60 });
  const signal = learnLowestSignal(fleet)!;
  const changed = (change: (visit: WearVisit) => Partial<WearVisit>) =>
    learnLowestSignal(fleet.map((visits) => visits.map((one) => ({ ...one, ...change(one) }))))!;

  it('through a shift of lowest, which is all intercept, and a change of its unit', () => {
    const shifted = changed(({ lowest }) => ({ lowest: lowest! + 2 }));
    expect(shifted.intercept).toBeCloseTo(signal.intercept + 2, 9);
    expect(shifted.slope).toBeCloseTo(signal.slope, 9);
    expect(shifted.weight).toBeCloseTo(signal.weight, 9);
    expect(shifted.disagreement).toBeCloseTo(signal.disagreement, 9);
    const scaled = changed(({ lowest }) => ({ lowest: lowest! * 2 }));
    expect(scaled.intercept).toBeCloseTo(signal.intercept * 2, 9);
    expect(scaled.slope).toBeCloseTo(signal.slope * 2, 9);
    expect(scaled.weight).toBeCloseTo(signal.weight, 9);
    expect(scaled.disagreement).toBeCloseTo(signal.disagreement, 9);
  });

  it('whatever the order of units, and of visits where lowest was not read', () => {
    expect(learnLowestSignal(fleet.toReversed())!.slope).toBeCloseTo(signal.slope, 12);
    const between = fleet.map((visits) =>
      visits.flatMap((one) => [one, { ...one, day: one.day + 1, idle: 3, lowest: null }]),
    );
    expect(learnLowestSignal(between)).toEqual(signal);
    const withShort = [...fleet, ...fleet.map((visits) => visits.slice(0, 2))];
    expect(learnLowestSignal(withShort)).toEqual(signal);
  });
});
