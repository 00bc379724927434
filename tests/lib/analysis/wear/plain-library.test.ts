import { describe, expect, it } from 'vitest';
import { defaultFleetPrior, type FleetPrior } from '@/lib/analysis/fleet-prior';
import {
  expectationOf,
  maximiseFactors,
  nextFactors,
  openingOf,
} from '@/lib/analysis/wear/fleet-expectation';
import { curveCount, lossesAt, lossOf, smoothCount } from '@/lib/analysis/wear/wear-curves';
import { WearTrack } from '@/lib/analysis/wear/wear-track';
import type { WearVisit } from '@/lib/analysis/wear/wear-visits';
import { followPlainly, plainCurves, widest } from './plain-library';

const prior: FleetPrior = {
  ...defaultFleetPrior,
  laterBend: defaultFleetPrior.bend.map((_, k) => (k + 1) / (27 * 14)),
  stepSize: [0.1, 0.2, 0.3, 0.4],
};
const segment = (days: readonly number[], idles: readonly number[]): WearVisit[] =>
  days.map((day, k) => ({ day, idle: idles[k]!, lowest: null, readings: [idles[k]!] }));
const segments = {
  'wear with a slip': segment(
    [0, 91, 182, 365, 548, 731, 1133],
    [13.1, 13, 12.7, 9, 12.2, 11.8, 9.6],
  ),
  'a sudden loss': segment([0, 60, 120, 180, 240], [12.8, 13, 12.9, 10, 9.8]),
  'wear past all scales': segment([0, 500, 1000, 1500, 2000, 2150], [13, 11, 8, 4, 1, 0.2]),
  'one visit': segment([0], [12.2]),
};
const plain = (visits: readonly WearVisit[]) =>
  followPlainly(
    prior,
    visits.map(({ day, idle }) => ({ years: (day - visits[0]!.day) / 365.25, idle })),
  );
const followed = (visits: readonly WearVisit[]) => {
  const track = new WearTrack();
  track.start(prior);
  const steps = visits.map(({ day, idle }) => {
    track.take(day, idle);
    return { ...track.surprise };
  });
  return { track, steps };
};
const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0);

describe('the library against every curve followed by itself', () => {
  it('has the losses of the formula, one by one and filled at once', () => {
    expect(plainCurves).toHaveLength(curveCount);
    const losses = new Float64Array(curveCount);
    for (const years of [0, 0.01, 0.0625, 0.9, 1, 2.3, 5.9, 6.6, 8, 30]) {
      lossesAt(years, losses.fill(-1));
      const expected = plainCurves.map(({ loss }) => loss(years));
      const one = plainCurves.map((_, k) => lossOf(k, years));
      expect(widest(one, expected)).toBeLessThan(1e-9);
      const filled = plainCurves.map(({ begins }, k) => {
        const hasBegun = k < smoothCount ? begins < years : begins <= years;
        return hasBegun ? expected[k]! : -1;
      });
      expect(widest(losses, filled)).toBeLessThan(1e-9);
    }
  });

  it.each(Object.entries(segments))('%s: surprises, belief and hindsight', (_, visits) => {
    const { states, said } = plain(visits);
    const { track, steps } = followed(visits);
    steps.forEach((step, k) => {
      expect(step.z).toBeCloseTo(said[k]!.z, 7);
      expect(step.readingInError).toBeCloseTo(said[k]!.readingInError, 8);
      expect(step.logLikelihood).toBeCloseTo(said[k]!.logLikelihood, 7);
    });
    const { after } = track;
    const begun = [...after.curve.subarray(0, after.count)].map((curve) => states[curve]!);
    const isWorthwhile = (_: number, k: number) => begun[k]!.q > 1e-9;
    const own = (values: Float64Array) => values.subarray(0, after.count).filter(isWorthwhile);
    const worthwhile = begun.filter(({ q }) => q > 1e-9);
    expect(
      widest(
        own(after.weight),
        worthwhile.map(({ q }) => q),
      ),
    ).toBeLessThan(1e-8);
    expect(
      widest(
        own(after.level),
        worthwhile.map(({ m }) => m),
      ),
    ).toBeLessThan(1e-7);
    expect(
      widest(
        own(after.variance),
        worthwhile.map(({ V }) => V),
      ),
    ).toBeLessThan(1e-7);
    const last = states.at(-1)!;
    expect([after.restLevel, after.restVariance]).toEqual([
      expect.closeTo(last.m, 9),
      expect.closeTo(last.V, 9),
    ]);
    expect(after.rest).toBeCloseTo(last.q / plainCurves.at(-1)!.weight(prior), 9);
    const hindsight = visits.map((_, n) => sum(states.map(({ q, sound }) => q * (1 - sound[n]!))));
    expect(widest(track.errorsInHindsight(), hindsight)).toBeLessThan(1e-7);
  });

  it('sums the weight of each curve over segments, as expectation', () => {
    const all = Object.values(segments);
    const { weights, logLikelihood } = expectationOf(all, prior);
    const each = all.map(plain);
    const sums = plainCurves.map((_, k) => sum(each.map(({ states }) => states[k]!.q)));
    expect(widest(weights, sums)).toBeLessThan(1e-7);
    expect(logLikelihood).toBeCloseTo(
      sum(each.flatMap(({ said }) => said.map((step) => step.logLikelihood))),
      6,
    );
  });

  it('one round: each share is what segments and the starting prior counted together make of it', () => {
    const expectation = expectationOf(Object.values(segments), prior);
    const next = nextFactors(defaultFleetPrior, prior, expectation);
    const counted = (isOf: (curve: (typeof plainCurves)[number]) => boolean) =>
      sum(plainCurves.map((curve, k) => (isOf(curve) ? expectation.weights[k]! : 0)));
    const isStep = (curve: (typeof plainCurves)[number]) => curve.size !== null;
    const smooth = counted((curve) => !isStep(curve));
    const early = counted((curve) => !isStep(curve) && curve.begins <= 0);
    defaultFleetPrior.onset.forEach((share, k) => {
      const own = counted((curve) => curve.onset === k);
      expect(next.onset[k]).toBeCloseTo((400 * share + own) / (400 + smooth), 12);
    });
    defaultFleetPrior.bend.forEach((share, k) => {
      const at = (isEarly: boolean) =>
        counted((curve) => curve.bend === k && curve.begins <= 0 === isEarly);
      expect(next.bend[k]).toBeCloseTo((100 * share + at(true)) / (100 + early), 12);
      expect(next.laterBend![k]).toBeCloseTo(
        (100 * share + at(false)) / (100 + smooth - early),
        12,
      );
    });
    const steps = counted(isStep);
    defaultFleetPrior.stepSize.forEach((share, k) => {
      const own = counted((curve) => curve.size === k);
      expect(next.stepSize[k]).toBeCloseTo((400 * share + own) / (400 + steps), 12);
    });
    const all = Object.keys(segments).length;
    expect(next.stepShare).toBeCloseTo((400 * 0.08 + steps) / (400 + all), 9);
    expect(next).toMatchObject({ noise: prior.noise, startLevel: prior.startLevel });
  });

  it('rounds follow each other, none being the prior itself', () => {
    const all = [segments['a sudden loss'], segments['wear with a slip']];
    const round = (current: FleetPrior) =>
      nextFactors(defaultFleetPrior, current, expectationOf(all, current));
    expect(maximiseFactors(all, defaultFleetPrior, prior, 0)).toBe(prior);
    expect(maximiseFactors(all, defaultFleetPrior, prior, 2)).toEqual(round(round(prior)));
  });
});

describe('openingOf', () => {
  it('keeps 28 visits and six years at most', () => {
    const weekly = segment(
      Array.from({ length: 40 }, (_, k) => 100 + 7 * k),
      new Array(40).fill(13),
    );
    expect(openingOf(weekly)).toEqual(weekly.slice(0, 28));
    const sparse = segment([100, 2291, 2292], [13, 13, 13]);
    expect(openingOf(sparse).map(({ day }) => day)).toEqual([100, 2291]);
    expect(openingOf([])).toEqual([]);
  });
});
