import { defaultLimits } from '@/lib/analysis/limits';
import { daysPerYear } from '@/lib/analysis/wear/below-limit';
import type { FleetPrior } from '@/lib/analysis/wear/default-fleet-prior';
import { fewestVisits } from '@/lib/analysis/wear/first-passage';
import { scoreOf } from '@/lib/analysis/wear/score-of';
import { WearTrack } from '@/lib/analysis/wear/wear-track';
import type { WearVisit } from '@/lib/analysis/wear/wear-visits';
import { normal } from '@/lib/statistics/normal';
import { type SeededRandom, seededRandom } from '@/lib/statistics/seeded-random';

/** False alarms a year of the simulated pumps; people err worse, and about twice as many come true. */
const wantedAlarms = 4 / 1000;
/** The lowest raw score that may alarm, whatever the simulation says; the highest is `bookInScore`. */
const lowestAlarm = 0.12;
const enoughPumps = 800;
const yearsFollowed = 6;
const seed = 1;
const track = new WearTrack({ isHindsightKept: false });

interface Simulated {
  readonly years: number;
  readonly scores: readonly number[];
}

/**
 * The power of the wear score, 1 at most, that spends the same rate of false alarms in every fleet that
 * would have fewer. Pumps that never wear are simulated with the noise, errors, start levels and
 * reading intervals that the fleet has shown, and judged; the raw score that alarms on them at the
 * wanted rate becomes 0.18. A fleet that reads well, or seldom, so hears of wear earlier; none later.
 * 1 without two visits of one segment.
 *
 * Source: own method, a parametric bootstrap (Efron 1979) with a fixed seed.
 */
export function learnAlarmPower(
  segments: readonly (readonly WearVisit[])[],
  prior: FleetPrior,
  limit: number,
  simulatedPumps = enoughPumps,
): number {
  const intervals = segments.flatMap((visits) =>
    visits.slice(1).map(({ day }, k) => day - visits[k]!.day),
  );
  if (intervals.length === 0) return 1;
  const chance = seededRandom(seed);
  const pumps = Array.from({ length: simulatedPumps }, (_, k) => {
    const level =
      prior.startLevel + prior.startDeviation * normal.quantile((k + 0.5) / simulatedPumps);
    return soundPump(level, intervals, prior, limit, chance);
  });
  const { bookInScore } = defaultLimits;
  const alarm = Math.min(bookInScore, Math.max(lowestAlarm, scoreAlarming(pumps)));
  return Math.log(bookInScore) / Math.log(alarm);
}

function soundPump(
  level: number,
  intervals: readonly number[],
  prior: FleetPrior,
  limit: number,
  chance: SeededRandom,
): Simulated {
  const scores: number[] = [];
  let before: number | null = null;
  let visits = 0;
  let day = 0;
  track.start(prior);
  while (day <= yearsFollowed * daysPerYear) {
    const idle = level + errorOf(prior, chance);
    track.take(day, idle);
    const { within1Year } = track.judge(
      { day, idle, lowest: null, readings: [idle] },
      prior,
      limit,
    );
    visits++;
    scores.push(visits < fewestVisits ? 0 : scoreOf(within1Year, before)!);
    before = within1Year;
    day += intervals[Math.floor(intervals.length * chance.uniform())]!;
  }
  return { years: day / daysPerYear, scores };
}

/** A visit's error as the wear library has it: normal, or now and then Cauchy. */
const errorOf = (prior: FleetPrior, chance: SeededRandom): number =>
  chance.uniform() < prior.errorShare
    ? prior.errorSpread * Math.tan(Math.PI * (chance.uniform() - 0.5))
    : prior.noise * chance.normal();

/** The lowest score that is reached from below no oftener than wanted. */
function scoreAlarming(pumps: readonly Simulated[]): number {
  const years = pumps.reduce((sum, pump) => sum + pump.years, 0);
  const isWanted = (score: number) => {
    let alarms = 0;
    for (const { scores } of pumps)
      for (let k = 1; k < scores.length; k++)
        if (scores[k]! >= score && scores[k - 1]! < score) alarms++;
    return alarms <= wantedAlarms * years;
  };
  let [low, high] = [0, 1];
  for (let halving = 0; halving < 20; halving++) {
    const middle = (low + high) / 2;
    if (isWanted(middle)) high = middle;
    else low = middle;
  }
  return high;
}
