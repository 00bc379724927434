import { describe, expect, it } from 'vitest';
import { type Scenario, scenarios } from '@/lib/analysis/backtest/fleet-scenarios';
import { simulateFleet } from '@/lib/analysis/backtest/simulate-fleet';
import { fromKilopascals } from '@/lib/measure';

const base = scenarios.A!;
const psi = (kilopascals: number) => fromKilopascals(kilopascals, 'psi');
/** Nobody errs, nothing is left out, every pump begins at 13 psi and wears in one way. */
const only = (mode: Partial<Pick<Scenario, 'even' | 'accelerating' | 'sudden'>>): Scenario => ({
  ...{ ...base, units: 60, even: 0, accelerating: 0, sudden: 0, jump: 0 },
  ...{ noise: 0, lowestNoise: 0, errorShare: 0, missed: 0, startLevel: 13, startDeviation: 0 },
  ...mode,
});

describe('a simulated fleet', () => {
  it('is the same for the same seed, and another for another', () => {
    const small = { ...base, units: 5 };
    expect(simulateFleet(small, 1)).toEqual(simulateFleet(small, 1));
    expect(simulateFleet(small, 1)).not.toEqual(simulateFleet(small, 2));
  });

  it('of stable pumps reads about 13 psi for six and a half years, and follows it with lowest', () => {
    const fleet = simulateFleet(only({}), 1);
    expect(fleet).toHaveLength(60);
    const days = fleet.flatMap(({ points }) =>
      points.slice(1).map(({ day }, k) => day - points[k]!.day),
    );
    const interval = days.reduce((sum, one) => sum + one, 0) / days.length;
    expect(Math.abs(interval - base.interval)).toBeLessThan(2);
    for (const { points, isStable, isSudden, crossing, crossedInService, isInError } of fleet) {
      expect({ isStable, isSudden, crossing, crossedInService }).toEqual({
        ...{ isStable: true, isSudden: false, crossing: null, crossedInService: false },
      });
      expect(isInError).toEqual(points.map(() => false));
      expect(points[0]!.day).toBeLessThanOrEqual(90);
      expect(points.at(-1)!.day).toBeGreaterThan(6 * 365);
      for (const { idleSle, lowestSle } of points) {
        // A gauge in 0.5 inHg rounds by 0.12 psi; a pump sways by some hundredths.
        expect(Math.abs(psi(idleSle) - 13)).toBeLessThan(0.26);
        expect(Math.abs(psi(lowestSle!) - (1.7 + 0.56 * 13))).toBeLessThan(0.21);
      }
    }
  });

  it('of evenly wearing pumps lies above 10 psi before the day of crossing, and below after', () => {
    const worn = simulateFleet(only({ even: 1 }), 1).filter(({ crossing }) => crossing !== null);
    expect(worn.length).toBeGreaterThan(60);
    for (const { points, crossing, isStable } of worn) {
      expect(isStable).toBe(false);
      for (const { day, idleSle } of points) {
        if (day < crossing!) expect(psi(idleSle)).toBeGreaterThan(10 - 0.13);
        else expect(psi(idleSle)).toBeLessThan(10 + 0.13);
      }
      // A worn pump is found and replaced within 300 days.
      expect(points.at(-1)!.day).toBeLessThanOrEqual(crossing! + 300);
    }
    const seen = worn.filter(({ crossedInService }) => crossedInService);
    expect(seen.every(({ points, crossing }) => points.at(-1)!.day >= crossing!)).toBe(true);
    expect(seen.length).toBeGreaterThan(worn.length / 2);
  });

  it('of sudden failures shows them as such', () => {
    const fleet = simulateFleet(only({ sudden: 1 }), 1);
    expect(fleet.every(({ isSudden, isStable }) => isSudden && !isStable)).toBe(true);
  });

  it('has as many errors and gaps as its scenario says', () => {
    const slack = { ...only({}), errorShare: 0.3, missed: 0.4, interval: 20, units: 12 };
    const [kept, whole] = [slack, { ...slack, missed: 0 }].map((one) => simulateFleet(one, 1));
    const errors = kept!.flatMap(({ isInError }) => isInError);
    expect(errors.filter(Boolean).length / errors.length).toBeCloseTo(0.3, 1);
    const read = (fleet: typeof kept) => fleet!.reduce((sum, { points }) => sum + points.length, 0);
    expect(read(kept) / read(whole)).toBeCloseTo(0.6, 1);
  });
});

/** Means and shares stay within four standard errors of what the law says. */
describe('the laws of a simulated fleet', () => {
  const mean = (values: readonly number[]) =>
    values.reduce((sum, value) => sum + value, 0) / values.length;
  const expectMean = (values: readonly number[], law: number, deviation: number) =>
    expect(Math.abs(mean(values) - law)).toBeLessThan((4 * deviation) / Math.sqrt(values.length));
  const expectShare = (hits: number, of: number, law: number) =>
    expect(Math.abs(hits / of - law)).toBeLessThan(4 * Math.sqrt((law * (1 - law)) / of));
  const expectVariance = (values: readonly number[], law: number) =>
    expectMean(
      values.map((value) => value ** 2),
      law,
      law * Math.sqrt(2),
    );
  const isNear = (value: number, other: number) => Math.abs(value - other) < 0.26;
  /** What rounding to 0.5 inHg in 40% of gauges, and to 0.1 psi in the rest, adds. */
  const rounding = (0.4 * (0.5 * 0.491154) ** 2 + 0.6 * 0.1 ** 2) / 12;

  it('units are numbered from U1, and one that was never read is not in it', () => {
    const fleet = simulateFleet({ ...only({ even: 1 }), units: 5 }, 1);
    const units = new Set(fleet.map(({ unit }) => unit));
    expect([...units]).toEqual(['U1', 'U2', 'U3', 'U4', 'U5']);
    expect(fleet.some(({ isStable, isSudden }) => isStable || isSudden)).toBe(false);
    expect(simulateFleet({ ...only({ even: 1 }), units: 5, missed: 1 }, 1)).toEqual([]);
  });

  it('each way to wear has its share; 15% of wearing pumps are out after 1,200 to 2,000 days', () => {
    // None wears through, and few are read: segments to count by.
    const modes = { even: 0.1, accelerating: 0.4, sudden: 0.4 };
    const thick = { ...only(modes), startLevel: 100, interval: 1000, units: 60 };
    const fleet = simulateFleet(thick, 1);
    const first = fleet.filter(({ unit }, k) => fleet[k - 1]?.unit !== unit);
    expectShare(first.filter(({ isSudden }) => isSudden).length, 60, 0.4);
    const stable = first.filter(({ isStable }) => isStable);
    expectShare(stable.length, 60, 0.1);
    const next = fleet.filter(({ unit }, k) => fleet[k - 1]?.unit === unit);
    expectShare(next.length, 60 - stable.length, 0.15);
    expect(stable.filter(({ unit }) => next.some((other) => other.unit === unit))).toEqual([]);
    // The next pump is first read within 90 days.
    const from = next.map(({ points }) => points[0]!.day);
    expect(Math.min(...from)).toBeGreaterThanOrEqual(1200);
    expect(Math.max(...from)).toBeLessThanOrEqual(2090);
    expectMean(from, 1600 + 45, Math.sqrt((800 ** 2 + 90 ** 2) / 12));
  });

  it('half of the pumps that wear evenly from 13 psi have met the limit after 4 years', () => {
    const fleet = simulateFleet({ ...only({ even: 1 }), interval: 1000, units: 60 }, 1);
    const first = fleet.filter(({ points }) => points[0]!.day <= 90);
    expect(first).toHaveLength(60);
    const years = first.map(({ crossing }) => (crossing ?? 1e9) / 365.25);
    expectShare(years.filter((one) => one < 4).length, 60, 0.5);
    expectShare(years.filter((one) => one < 4 * Math.exp(-0.45)).length, 60, 0.1587);
  });

  it('a sudden failure comes whole even where other wear comes in jumps', () => {
    const jumpy = { startLevel: 10.5, jump: 20, units: 25 };
    const spent = (mode: Parameters<typeof only>[0]) =>
      simulateFleet({ ...only(mode), ...jumpy }, 1)
        .filter(({ points }) => points[0]!.day <= 60)
        .map(({ crossing }) => (crossing ?? 1e9) / 365.25);
    // A failure is of 1 psi at least, within 6.5 years; smooth wear of 0.5 psi takes 3 at most.
    expect(Math.max(...spent({ sudden: 1 }))).toBeLessThan(6.6);
    expect(Math.max(...spent({ even: 1 }))).toBeGreaterThan(6.6);
  });

  it('a pump that starts at the limit sways about it, half a wave of 200 π days to either side', () => {
    // At the limit itself it has not crossed: sin(day / 200) turns on day 1 or on day 629.
    const fleet = simulateFleet({ ...only({}), startLevel: 10, units: 20 }, 1);
    const first = fleet.filter(({ points }) => points[0]!.day <= 60);
    expect(new Set(first.map(({ crossing }) => crossing))).toEqual(new Set([1, 629]));
    expect(fleet.every(({ isStable }) => isStable)).toBe(true);
  });

  it('a crossing on the day of the last reading is one in service', () => {
    const fleet = simulateFleet({ ...only({ even: 1 }), interval: 200, units: 20 }, 2);
    const crossed = fleet.filter(({ crossing }) => crossing !== null);
    for (const { points, crossing, crossedInService } of crossed)
      expect(crossedInService).toBe(points.at(-1)!.day >= crossing!);
    expect(crossed.some(({ points, crossing }) => points.at(-1)!.day === crossing)).toBe(true);
    expect(crossed.some(({ crossedInService }) => !crossedInService)).toBe(true);
  });

  it('start levels and both signals scatter as the scenario says, about means that they share', () => {
    const spread = { ...only({}), startDeviation: 0.5, interval: 1000, units: 60 };
    const starts = simulateFleet(spread, 1).map(({ points }) => psi(points[0]!.idleSle) - 13);
    expectMean(starts, 0, 0.5);
    expectVariance(starts, 0.5 ** 2 + rounding);

    const noisy = { ...only({}), noise: 0.28, lowestNoise: 0.4, interval: 20, units: 20 };
    const read = simulateFleet(noisy, 1).flatMap(({ points }) => points);
    const idle = read.map(({ idleSle }) => psi(idleSle) - 13);
    const lowest = read.map(({ lowestSle }) => psi(lowestSle!) - (1.7 + 0.56 * 13));
    expectVariance(idle, 0.28 ** 2 + rounding + 0.03 ** 2 / 2);
    expectVariance(lowest, 0.4 ** 2 + rounding);
    // 6.5 years are 2,374 days, counted from 0.
    expect(Math.max(...read.map(({ day }) => day))).toBeLessThan(2374);
  });

  it('errs by a wrong unit, a slipped digit or a cold engine, and in no other way', () => {
    const read = simulateFleet({ ...only({}), errorShare: 1, interval: 20, units: 12 }, 1).flatMap(
      ({ points }) => points,
    );
    const lowestAt = (idle: number) => 1.7 + 0.56 * idle;
    const kinds = read.map(({ idleSle, lowestSle }) => {
      const [idle, lowest] = [psi(idleSle), psi(lowestSle!)];
      // Digits slip in idle alone; a wrong unit scales both; a cold engine keeps to the line.
      if (
        isNear(lowest, lowestAt(13)) &&
        [-3, -2, -1, 1, 2, 3].some((slip) => isNear(idle, 13 + slip))
      )
        return 'slip';
      for (const [kind, factor] of [
        ['inches', 0.491154],
        ['psi', 1 / 0.491154],
      ] as const)
        if (isNear(idle, 13 * factor) && isNear(lowest, lowestAt(13) * factor)) return kind;
      return isNear(lowest, lowestAt(idle)) && idle > 10.75 && idle < 12.45 ? 'cold' : 'other';
    });
    const share = (kind: string) => kinds.filter((one) => one === kind).length;
    expect(share('other')).toBe(0);
    // 40% of gauges are in inHg.
    expectShare(share('inches'), read.length, 0.25 * 0.4);
    expectShare(share('psi'), read.length, 0.25 * 0.6);
    expectShare(share('slip'), read.length, 0.25);
    expectShare(share('cold'), read.length, 0.5);
  });
});
