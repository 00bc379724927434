import { describe, expect, it } from 'vitest';
import { defaultFleetPrior } from '@/lib/analysis/fleet-prior';
import { assessWear } from '@/lib/analysis/wear';
import { prepare } from '@/lib/analysis/wear/wear-belief';
import { posteriorOf } from '@/lib/analysis/wear/wear-posterior';
import { WearTrack } from '@/lib/analysis/wear/wear-track';
import { toKilopascals } from '@/lib/measure';
import { followPlainly, plainCurves, widest } from './plain-library';

type Visit = readonly [day: number, idle: number];
const follow = (visits: readonly Visit[]) => {
  const track = new WearTrack();
  track.start(defaultFleetPrior);
  for (const [day, idle] of visits) track.take(day, idle);
  return track;
};
const plain = (visits: readonly Visit[], startLevel?: number) =>
  followPlainly(
    defaultFleetPrior,
    visits.map(([day, idle]) => ({ years: (day - visits[0]![0]) / 365.25, idle })),
    startLevel,
  );
const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0);
const every = (days: number, count: number) =>
  Array.from(
    { length: count },
    (_, k): Visit => [500 + k * days, 13 - 0.0007 * k * days + ((k * 7) % 5) / 20],
  );

describe('a segment past the grid', () => {
  it.each([
    ['28 visits', every(40, 29), 24],
    ['six years', every(220, 11), 9],
    ['six years, by a long gap', [...every(200, 5), [4000, 11.9] as const], 1],
  ])('beyond %s is followed from a later origin', (_, visits, kept) => {
    const track = follow(visits);
    expect(track.count).toBe(kept);
    expect(track.days[0]).toBe(visits.at(-kept)![0]);
    expect(track.years).toBeLessThanOrEqual(5);
    expect(follow(visits.slice(0, -1)).count).toBe(visits.length - 1);

    const before = visits.slice(0, -1);
    const origin = kept > 1 ? visits.at(-kept)! : before.at(-1)!;
    const years = (origin[0] - visits[0]![0]) / 365.25;
    const level = sum(
      plain(before).states.map(({ q, m }, k) => q * (m - plainCurves[k]!.loss(years))),
    );
    expect(Math.abs(track.startLevel - level)).toBeLessThan(0.01);
    const { said } = plain(visits.slice(-kept), track.startLevel);
    expect(track.surprise.z).toBeCloseTo(said.at(-1)!.z, 7);
    expect(track.surprise.logLikelihood).toBeCloseTo(said.at(-1)!.logLikelihood, 7);
  });

  it('at exactly 28 visits or six years is not', () => {
    expect(follow(every(40, 28)).count).toBe(28);
    expect(follow([...every(100, 3), [500 + 2191, 12.9]]).count).toBe(4);
    expect(follow([...every(100, 3), [500 + 2192, 12.9]]).count).toBeLessThan(4);
  });
});

describe('what a forecast rests on', () => {
  const visits: readonly Visit[] = [
    [0, 13.1],
    [100, 12.8],
    [250, 12.4],
    [400, 11.9],
  ];

  it.each([1, 2, 4])('after %i visits: the curves of more than 0.0002, scaled to 1', (count) => {
    const seen = visits.slice(0, count);
    const track = follow(seen);
    const posterior = posteriorOf(prepare(defaultFleetPrior), track.after, track.years);
    const { states } = plain(seen);
    const saying = states.flatMap(({ q }, k) => (q > 2e-4 ? [k] : []));
    const total = sum(saying.map((k) => states[k]!.q));
    const curves = [...posterior.curve];
    expect(curves.toSorted((a, b) => a - b)).toEqual(saying);
    expect(
      widest(
        posterior.weight,
        curves.map((k) => states[k]!.q / total),
      ),
    ).toBeLessThan(1e-7);
    expect(
      widest(
        posterior.level,
        curves.map((k) => states[k]!.m),
      ),
    ).toBeLessThan(1e-7);
    expect(
      widest(
        posterior.variance,
        curves.map((k) => states[k]!.V),
      ),
    ).toBeLessThan(1e-7);
    expect(posterior.years).toBe(seen.at(-1)![0] / 365.25);
  });

  it('the level now and its deviation, in kPa', () => {
    const psi = toKilopascals(1, 'psi');
    const points = visits.map(([day, idle]) => ({ day, idleSle: idle * psi }));
    const { levelNow, levelDeviation } = assessWear(points, defaultFleetPrior);
    const years = 400 / 365.25;
    const { states } = plain(visits);
    const total = sum(states.map(({ q }) => (q > 2e-4 ? q : 0)));
    const parts = states.map(({ q, m, V }, k) => {
      const D = plainCurves[k]!.loss(years);
      const variance = V + defaultFleetPrior.wearNoise * Math.min(D, 6);
      return { q: q > 2e-4 ? q / total : 0, at: m - D, V: variance };
    });
    const mean = sum(parts.map(({ q, at }) => q * at));
    const variance = sum(parts.map(({ q, at, V }) => q * (V + (at - mean) ** 2)));
    expect(levelNow! / psi).toBeCloseTo(mean, 7);
    expect(levelDeviation! / psi).toBeCloseTo(Math.sqrt(variance), 6);
  });
});
