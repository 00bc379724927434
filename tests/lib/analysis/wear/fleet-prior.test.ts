import { describe, expect, it } from 'vitest';
import { scenarios } from '@/lib/analysis/backtest/fleet-scenarios';
import { simulateFleet } from '@/lib/analysis/backtest/simulate-fleet';
import { defaultFleetPrior, type FleetPrior, learnFleetPrior } from '@/lib/analysis/fleet-prior';
import { assessWear, type WearPoint } from '@/lib/analysis/wear';
import { learnAlarmPower } from '@/lib/analysis/wear/alarm-power';
import { expectationOf, nextFactors } from '@/lib/analysis/wear/fleet-expectation';
import { logPrior, parabolaStep } from '@/lib/analysis/wear/parameter-sweep';
import { robustMoments } from '@/lib/analysis/wear/robust-moments';
import { curveWeights } from '@/lib/analysis/wear/wear-belief';
import { bendCount, wearingOnsets } from '@/lib/analysis/wear/wear-curves';
import { combinedVisits, visitsOf } from '@/lib/analysis/wear/wear-visits';
import { psi } from '../../../support/a-unit';

const pointsOf = (letter: string, seed: number, units: number): (readonly WearPoint[])[] =>
  simulateFleet({ ...scenarios[letter]!, units }, seed).map(({ points }) => points);
const total = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0);

describe('defaultFleetPrior', () => {
  it('holds probabilities', () => {
    for (const shares of [
      defaultFleetPrior.onset,
      defaultFleetPrior.bend,
      defaultFleetPrior.stepSize,
    ])
      expect(total(shares)).toBeCloseTo(1, 12);
  });
});

describe('robustMoments', () => {
  // Known truth: start 13.1, its deviation 0.43, noise 0.28 psi and keying to 0.1 psi or 0.5 inHg.
  it('nears the truth of a simulated fleet in spite of errors and wear', () => {
    const fleet = pointsOf('A', 31, 200).map(visitsOf);
    const moments = robustMoments(fleet, defaultFleetPrior);
    expect(Math.abs(moments.noise - 0.29)).toBeLessThan(0.03);
    expect(Math.abs(moments.startLevel - 13.1)).toBeLessThan(0.15);
    expect(Math.abs(moments.startDeviation - 0.43)).toBeLessThan(0.12);
  });

  it('leaves the default where no segment has three visits', () => {
    const short = pointsOf('A', 32, 5).map((points) => visitsOf(points.slice(0, 2)));
    expect(robustMoments(short, defaultFleetPrior)).toEqual(defaultFleetPrior);
  });
});

describe('learnFleetPrior', () => {
  it('gives the default for a fleet without readings', () => {
    expect(learnFleetPrior([])).toBe(defaultFleetPrior);
    expect(learnFleetPrior([[], []])).toBe(defaultFleetPrior);
  });

  it('learns noise from a noisy fleet, raises the likelihood, and stays plain JSON', () => {
    const fleet = pointsOf('H', 33, 60).map((points) =>
      points.map(({ day, idleSle }) => ({ day, idleSle })),
    );
    const learnt = learnFleetPrior(fleet);
    const visits = fleet.map(visitsOf);
    expect(learnt.segments).toBe(fleet.length);
    expect(Math.abs(learnt.noise - 0.41)).toBeLessThan(0.05);
    expect(learnt.lowestSignal).toBeNull();
    expect(total(learnt.onset)).toBeCloseTo(1, 12);
    expect(expectationOf(visits, learnt).logLikelihood).toBeGreaterThan(
      expectationOf(visits, defaultFleetPrior).logLikelihood,
    );
    const revived = JSON.parse(JSON.stringify(learnt));
    expect(assessWear(fleet[0]!, revived).score).toBe(assessWear(fleet[0]!, learnt).score);
  });

  describe('from a few short histories, with a few simulated pumps', () => {
    const limit = psi(10);
    const pumps = 30;
    const short = pointsOf('A', 36, 80)
      .map((points) => points.slice(0, 3))
      .filter((points) => points.length === 3);
    const learn = (segments: readonly (readonly WearPoint[])[], limitSle = limit) =>
      learnFleetPrior(segments, limitSle, pumps);

    it('leaves out segments without a visit', () => {
      const one = learn([short[0]!]);
      expect(one.segments).toBe(1);
      expect(learn([[], short[0]!, []])).toEqual(one);
    });

    it('hardly moves from what is commonly so: three readings say little of a whole fleet', () => {
      const { noise, errorShare, startDeviation, startLevel } = learn([short[0]!]);
      // The deviations of the parameters' own priors are 0.5 to 0.7 of a logarithm, and 0.6 psi.
      expect(Math.abs(Math.log(noise / defaultFleetPrior.noise))).toBeLessThan(0.5);
      expect(Math.abs(Math.log(errorShare / defaultFleetPrior.errorShare))).toBeLessThan(0.7);
      expect(Math.abs(Math.log(startDeviation / defaultFleetPrior.startDeviation))).toBeLessThan(
        0.5,
      );
      expect(Math.abs(startLevel - defaultFleetPrior.startLevel)).toBeLessThan(0.6);
    });

    it('ends near the top of the posterior: no parameter is better well to either side', () => {
      const learnt = learn(short.slice(0, 20));
      const visits = short.slice(0, 20).map((points) => combinedVisits(visitsOf(points), learnt));
      const height = (prior: FleetPrior) =>
        expectationOf(visits, prior).logLikelihood + logPrior(prior);
      for (const parameter of ['noise', 'errorShare', 'startDeviation'] as const)
        for (const factor of [0.6, 1.6]) {
          const moved = { ...learnt, [parameter]: factor * learnt[parameter] };
          expect(height(moved)).toBeLessThan(height(learnt));
        }
      for (const away of [-0.4, 0.4])
        expect(height({ ...learnt, startLevel: learnt.startLevel + away })).toBeLessThan(
          height(learnt),
        );
    });

    it('has the alarm power that its own figures ask for at that limit', () => {
      const segments = short.slice(0, 12);
      for (const limitPsi of [10, 11.5]) {
        const learnt = learn(segments, psi(limitPsi));
        const visits = segments.map((points) => combinedVisits(visitsOf(points), learnt));
        expect(learnt.alarmPower).toBe(learnAlarmPower(visits, learnt, limitPsi, pumps));
      }
    });

    it('takes the noise of wear as given up to 99 segments, and learns it from 100', () => {
      const hundred = Array.from({ length: 100 }, (_, k) => short[k % 10]!.slice(0, 2));
      expect(learn(hundred.slice(1)).wearNoise).toBe(defaultFleetPrior.wearNoise);
      expect(learn(hundred).wearNoise).not.toBe(defaultFleetPrior.wearNoise);
    });
  });
});

describe('expectation maximisation', () => {
  it('each round raises the posterior likelihood, as the theory says it must', () => {
    const fleet = pointsOf('A', 35, 30).map(visitsOf);
    let prior = defaultFleetPrior;
    let last = Number.NEGATIVE_INFINITY;
    for (let round = 0; round < 4; round++) {
      const expectation = expectationOf(fleet, prior);
      expect(total([...expectation.weights])).toBeCloseTo(fleet.length, 6);
      const height = expectation.logLikelihood + dirichlet(prior, defaultFleetPrior);
      expect(height).toBeGreaterThanOrEqual(last - 1e-6);
      last = height;
      prior = nextFactors(defaultFleetPrior, prior, expectation);
    }
  });
});

/** Log density of the factors under the prior that segments at the basis make, but for a constant. */
function dirichlet(prior: typeof defaultFleetPrior, basis: typeof defaultFleetPrior): number {
  const list = (values: readonly number[], given: readonly number[], segments = 400) =>
    total(values.map((value, k) => segments * given[k]! * Math.log(value)));
  return (
    list(prior.onset, basis.onset) +
    list(prior.bend, basis.bend, 100) +
    list(prior.laterBend ?? prior.bend, basis.bend, 100) +
    list(prior.stepSize, basis.stepSize) +
    list([prior.stepShare, 1 - prior.stepShare], [basis.stepShare, 1 - basis.stepShare])
  );
}

describe('parabolaStep', () => {
  it('finds the top of a parabola, and goes no further than two half widths', () => {
    const parabola = (x: number) => 3 - (x - 0.4) ** 2;
    expect(parabolaStep(parabola(-1), parabola(0), parabola(1))).toBeCloseTo(0.4, 12);
    expect(parabolaStep(0, 10, 19.9)).toBe(2);
    expect(parabolaStep(1, 0, 3)).toBe(2);
    expect(parabolaStep(3, 0, 1)).toBe(-2);
    expect(parabolaStep(1, 1, 1)).toBe(0);
  });
});

describe('curveWeights', () => {
  it('bends curves that begin later in a way of their own, and sums to 1', () => {
    const laterBend = defaultFleetPrior.bend.map((_, k) => (k === 4 ? 1 : 0));
    const weights = curveWeights({ ...defaultFleetPrior, laterBend });
    const alike = curveWeights(defaultFleetPrior);
    const atFirst = wearingOnsets * bendCount;
    expect(total([...weights])).toBeCloseTo(1, 12);
    expect(weights.slice(0, atFirst)).toEqual(alike.slice(0, atFirst));
    const next = weights.slice(atFirst, atFirst + bendCount);
    expect(next.findIndex((weight) => weight > 0)).toBe(4);
    expect(next.filter((weight) => weight > 0)).toHaveLength(1);
  });
});
