import { expect, it } from 'vitest';
import { defaultFleetPrior, type FleetPrior } from '@/lib/analysis/fleet-prior';
import { startWear, updateWear, type WearState } from '@/lib/analysis/wear';
import { learnAlarmPower } from '@/lib/analysis/wear/alarm-power';
import { toKilopascals } from '@/lib/measure';
import { normal } from '@/lib/statistics/normal';
import { seededRandom } from '@/lib/statistics/seeded-random';

const visits = (...days: number[]) =>
  days.map((day) => ({ day, idle: 13, lowest: null, readings: [13] }));
const psi = (value: number) => toKilopascals(value, 'psi');
/** High enough that the alarm lies between its bounds, 0.12 and 0.18. */
const limit = 10.7;

/** The scores of pumps that never wear, from the fourth visit on, as a shed would have seen them. */
function soundPumps(prior: FleetPrior, intervals: readonly number[], pumps: number) {
  const chance = seededRandom(1);
  let years = 0;
  const scores = Array.from({ length: pumps }, (_, k) => {
    const level = prior.startLevel + prior.startDeviation * normal.quantile((k + 0.5) / pumps);
    let state: WearState = startWear(prior, psi(limit));
    const chances: number[] = [];
    let day = 0;
    for (; day <= 6 * 365.25; day += intervals[Math.floor(chance.uniform() * intervals.length)]!) {
      const isSlip = chance.uniform() < prior.errorShare;
      const error = isSlip
        ? prior.errorSpread * Math.tan((chance.uniform() - 0.5) * Math.PI)
        : chance.normal() * prior.noise;
      state = updateWear(state, { day, idleSle: psi(level + error) })!;
      chances.push(state.newest!.within1Year);
    }
    years += day / 365.25;
    return chances.map((p, n) => (n < 3 ? 0 : p ** 0.7 * chances[n - 1]! ** 0.3));
  });
  return { years, scores };
}

it('what alarms on sound pumps four times in a thousand years becomes 0.18, and hardly less does', () => {
  const prior = { ...defaultFleetPrior, startDeviation: 0.43, errorShare: 0.1 };
  const pumps = 40;
  const { years, scores } = soundPumps(prior, [300, 500], pumps);
  const alarmsFrom = (score: number) =>
    scores.flatMap((row) => row.filter((now, n) => n > 0 && now >= score && row[n - 1]! < score))
      .length;
  const power = learnAlarmPower([visits(0, 300), visits(7, 507), visits(9)], prior, limit, pumps);
  const alarm = 0.18 ** (1 / power);
  expect(alarm).toBeGreaterThan(0.12);
  expect(alarm).toBeLessThan(0.18);
  expect(alarmsFrom(alarm + 1e-9)).toBeLessThanOrEqual(0.004 * years);
  expect(alarmsFrom(alarm - 2e-6)).toBeGreaterThan(0.004 * years);
});
