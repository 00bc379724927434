import { describe, expect, it } from 'vitest';
import { type Scenario, scenarios } from '@/lib/analysis/backtest/fleet-scenarios';
import { informedForecasts } from '@/lib/analysis/backtest/informed-forecasts';
import { likelihoodOf } from '@/lib/analysis/backtest/reading-likelihood';
import { scoreForecasts } from '@/lib/analysis/backtest/score-forecasts';
import { meanLossOf, simulateFleet, type WearMode } from '@/lib/analysis/backtest/simulate-fleet';
import { toKilopascals } from '@/lib/measure';
import { seededRandom } from '@/lib/statistics/seeded-random';

const scenario = { ...scenarios.A!, units: 40 };
const reading = (idle: number, lowest: number) => ({
  day: 0,
  idleSle: toKilopascals(idle, 'psi'),
  lowestSle: toKilopascals(lowest, 'psi'),
});

describe('likelihoodOf', () => {
  it('is highest at the level that both signals show', () => {
    const of = likelihoodOf(reading(12, 1.7 + 0.56 * 12), scenario);
    for (const level of [10, 11, 11.5, 12.5, 13, 14]) expect(of(12)).toBeGreaterThan(of(level));
  });

  it('takes a level beyond its table, 17 psi, as at the end', () => {
    const of = likelihoodOf(reading(17, 1.7 + 0.56 * 17), scenario);
    expect(of(20)).toBe(of(17));
    expect(of(17)).toBeGreaterThan(0.9);
  });

  it('knows the errors that people make: a wrong unit, a slipped digit, a cold engine', () => {
    const lowest = 1.7 + 0.56 * 13;
    for (const wrong of [
      reading(13 * 0.491, lowest * 0.491),
      reading(11, lowest),
      reading(13 - 1.4, lowest - 0.56 * 1.4),
    ]) {
      const of = likelihoodOf(wrong, scenario);
      expect(of(13)).toBeGreaterThan(100 * of(14.6));
      expect(of(13)).toBeGreaterThan(1e-4);
    }
  });
});

describe('informedForecasts', () => {
  it('knows the day of a crossing about as well as it says, and spares sound pumps', () => {
    const drawn = { even: 100, accelerating: 500, sudden: 60 };
    const judged = informedForecasts(scenario, simulateFleet(scenario, 42), drawn);
    const scores = scoreForecasts(judged);
    expect(scores.crossings).toBeGreaterThan(8);
    expect(scores.coverage80).toBeGreaterThan(0.65);
    expect(scores.coverage80).toBeLessThan(0.95);
    expect(scores.medianAbsoluteError[0]).toBeLessThan(80);
    expect(scores.flaggedBefore).toBeGreaterThan(0.8);
    expect(scores.falseAlarmsPer1000Years).toBeLessThan(20);
  });

  it('knows nearly the day where all wear evenly and gauges are good, in order and within its intervals', () => {
    const fine = {
      ...{ ...scenario, units: 12, even: 1, accelerating: 0, sudden: 0, jump: 0 },
      ...{ noise: 0.2, lowestNoise: 0.2, errorShare: 0, startDeviation: 0.1 },
    };
    const worn = informedForecasts(fine, simulateFleet(fine, 5), {
      ...{ even: 400, accelerating: 1, sudden: 1 },
    }).filter(({ crossedInService, points }) => crossedInService && points.length > 5);
    expect(worn.length).toBeGreaterThan(5);
    for (const { visits, crossing } of worn) {
      expect(visits.map(({ count }) => count)).toEqual(visits.map((_, k) => k + 1));
      const last = visits.findLast(({ day }) => day < crossing!)!;
      expect(Math.abs(last.median! - crossing!)).toBeLessThan(90);
      expect(last.probabilityWithin1Year).toBeGreaterThan(0.9);
      for (const visit of visits) {
        const dates = [visit.day, visit.earliest90, visit.earliest80, visit.median];
        const inOrder = [...dates, visit.latest80, visit.latest90].map((day) => day ?? 1e9);
        expect(inOrder).toEqual(inOrder.toSorted((a, b) => a - b));
      }
      const after = visits.find(({ day }) => day > crossing! + 60);
      if (after) expect(after.probabilityWithin1Year).toBeCloseTo(1, 3);
    }
    const asIs = worn.flatMap(({ visits, crossing }) =>
      visits.filter(({ day }) => day < crossing!).map((visit) => ({ visit, crossing: crossing! })),
    );
    const inside = asIs.filter(
      ({ visit, crossing }) =>
        visit.earliest90! <= crossing + 7 && crossing - 7 <= (visit.latest90 ?? 1e9),
    );
    expect(inside.length / asIs.length).toBeGreaterThan(0.75);
  });

  it('gives a pump that holds its level little chance to wear', () => {
    const sound = { ...scenario, units: 4, even: 0, accelerating: 0, sudden: 0 };
    const [first] = informedForecasts(scenario, simulateFleet(sound, 5), {
      ...{ even: 40, accelerating: 100, sudden: 20 },
    });
    expect(first!.visits[0]!.probabilityWithin1Year).toBeGreaterThan(0.001);
    expect(first!.visits.at(-1)!.probabilityWithin1Year).toBeLessThan(0.1);
    expect(first!.visits.at(-1)!.score).toBeLessThan(0.1);
    expect(first!.visits.at(-1)!.median).toBeNull();
  });
});

describe('informedForecasts with gauges that tell nothing, so that the laws alone speak', () => {
  const none = { even: 0, accelerating: 0, sudden: 0 };
  const mute: Scenario = {
    ...{ ...scenario, ...none, jump: 0, errorShare: 0, startDeviation: 0 },
    ...{ noise: 1e9, lowestNoise: 1e9 },
  };
  /** The first way to wear that is drawn of a mode. */
  const firstOf = (mode: WearMode) => meanLossOf(mode, mute, seededRandom(987_654));
  /** Visits at these ages, days; tracking begins 45 days before the first. */
  const forecasts = (
    of: Scenario,
    drawn: Parameters<typeof informedForecasts>[2],
    ages: number[],
  ) =>
    informedForecasts(
      of,
      [
        {
          ...{ unit: 'U1', isStable: false, isSudden: false, crossing: null },
          ...{ crossedInService: false, isInError: ages.map(() => false) },
          points: ages.map((age) => ({ ...reading(13, 9), day: 1000 + age - 45 })),
        },
      ],
      drawn,
    )[0]!.visits;
  const dayOf = (week: number) => 1000 - 45 + 7 * week;
  const yearsOf = (week: number) => (7 * week) / 365.25;

  it('the start level spreads as a normal does, so that the day of a crossing does too', () => {
    const steady = { ...mute, even: 1, startDeviation: 0.5 };
    const rate = firstOf('even')(1);
    const [visit] = forecasts({ ...steady, startLevel: 12.1 }, { ...none, even: 1 }, [45]);
    const deviationsOf = (day: number | null) => (((day! - dayOf(0)) / 365.25) * rate - 2.1) / 0.5;
    // Normal quantiles; levels lie a quarter of a deviation apart, dates a week.
    const week = (yearsOf(1) * rate) / 0.5;
    for (const [day, quantile] of [
      [visit!.earliest90, -1.645],
      [visit!.earliest80, -1.282],
      [visit!.median, 0],
      [visit!.latest80, 1.282],
      [visit!.latest90, 1.645],
    ] as const) {
      expect(deviationsOf(day)).toBeGreaterThan(quantile - 0.125);
      expect(deviationsOf(day)).toBeLessThan(quantile + 0.125 + week);
    }
    expect(visit).toMatchObject({ asksReread: false, errorInHindsight: 0 });
  });

  it('each mode has its share, and what is left is stable', () => {
    // At 10.5 psi all that wears has met the limit of 10 within twelve years.
    const mixed = { ...mute, startLevel: 10.5, even: 0.2, accelerating: 0.3, sudden: 0.1 };
    const drawn = { even: 30, accelerating: 20, sudden: 10 };
    expect(forecasts(mixed, drawn, [45, 12 * 365]).at(-1)!.probabilityWithin1Year).toBeCloseTo(
      0.6,
      9,
    );
    const fewer = { ...mixed, accelerating: 0.25 };
    expect(forecasts(fewer, drawn, [45, 12 * 365])[1]!.probabilityWithin1Year).toBeCloseTo(0.55, 9);
  });

  it('wear in jumps may miss the limit for years, yet a sudden failure comes whole', () => {
    const jumpy = { ...mute, startLevel: 10.5, jump: 20 };
    const by = (mode: 'even' | 'sudden', jump: number) =>
      forecasts({ ...jumpy, jump, [mode]: 1 }, { ...none, [mode]: 40 }, [45, 5.6 * 365])[1]!
        .probabilityWithin1Year;
    // Any failure is of 1 psi at least, and by 6.5 years; 0.5 psi of even wear take 2 years at most.
    expect(by('sudden', 20)).toBeCloseTo(1, 9);
    expect(by('even', 0)).toBeCloseTo(1, 9);
    expect(by('even', 20)).toBeLessThan(0.9);
  });

  it('a pump that starts at the limit has met it, one that loses just as much as it may has not', () => {
    const atLimit = forecasts({ ...mute, startLevel: 10 }, none, [45, 400]);
    for (const visit of atLimit)
      expect(visit).toMatchObject({ median: visit.day, latest90: visit.day });
    const size = firstOf('sudden')(20);
    const failing = (startLevel: number) =>
      forecasts({ ...mute, sudden: 1, startLevel }, { ...none, sudden: 1 }, [45])[0]!;
    expect(failing(10 + size)).toMatchObject({ median: null, probabilityWithin1Year: 0 });
    expect(failing(10 + size - 0.001).median).not.toBeNull();
  });

  it('wear is followed for 731 weeks: a crossing in the last one has its day, a later one has none', () => {
    const loss = firstOf('even');
    const justBefore = (week: number, ages: number[]) => {
      const startLevel = 10 + loss(yearsOf(week)) - 1e-6;
      return forecasts({ ...mute, even: 1, startLevel }, { ...none, even: 1 }, ages);
    };
    expect(justBefore(731, [45])[0]!.median).toBe(dayOf(731));
    expect(justBefore(732, [45])[0]!.median).toBeNull();
    // A unit read for longer is judged as on the last day that is followed.
    const old = justBefore(731, [45, 7 * 731, 7 * 800]).map((one) => one.probabilityWithin1Year);
    expect(old).toEqual([0, 1, 1].map((chance) => expect.closeTo(chance, 9)));
    const half = { ...scenario, ...none, even: 0.5, startDeviation: 0, startLevel: 13, jump: 0 };
    const held = forecasts(half, { ...none, even: 1 }, [45, 7 * 731, 7 * 800]);
    expect(held.at(-1)).toMatchObject({
      median: null,
      probabilityWithin1Year: expect.closeTo(0, 6),
    });
  });
});
