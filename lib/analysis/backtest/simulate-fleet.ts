import type { Scenario } from '@/lib/analysis/backtest/fleet-scenarios';
import type { KnownSegment } from '@/lib/analysis/backtest/score-forecasts';
import { type SeededRandom, seededRandom } from '@/lib/analysis/backtest/seeded-random';
import type { WearPoint } from '@/lib/analysis/wear';
import { toKilopascals } from '@/lib/measure';

type WearMode = 'stable' | 'even' | 'accelerating' | 'sudden';

const yearDays = 365.25;
const trackedDays = Math.round(6.5 * yearDays);
const step = 7;
const limit = 10;

/** Segments of one fleet: equal scenario and seed give equal fleets. */
export function simulateFleet(scenario: Scenario, seed: number): KnownSegment[] {
  const chance = seededRandom(seed);
  const segments: KnownSegment[] = [];
  for (let unit = 0; unit < scenario.units; unit++) {
    let start = 0;
    while (start < trackedDays - 200) {
      const { end, segment } = simulateSegment(scenario, `U${unit + 1}`, start, chance);
      if (segment.points.length > 0) segments.push(segment);
      start = end;
    }
  }
  return segments;
}

function simulateSegment(
  scenario: Scenario,
  unit: string,
  start: number,
  chance: SeededRandom,
): { end: number; segment: KnownSegment } {
  const draw = chance.uniform();
  const { even, accelerating, sudden } = scenario;
  const mode: WearMode =
    draw < even
      ? 'even'
      : draw < even + accelerating
        ? 'accelerating'
        : draw < even + accelerating + sudden
          ? 'sudden'
          : 'stable';
  const level = scenario.startLevel + scenario.startDeviation * chance.normal();
  const meanLoss = meanLossOf(mode, scenario, chance);

  const weeks = Math.ceil((14 * yearDays) / step);
  const loss = new Float64Array(weeks + 1);
  const sway = 0.03 * chance.normal();
  for (let week = 1; week <= weeks; week++) {
    const rise = meanLoss((week * step) / yearDays) - meanLoss(((week - 1) * step) / yearDays);
    const grown =
      mode === 'sudden' || scenario.jump === 0
        ? rise
        : scenario.jump * chance.gamma(rise / scenario.jump);
    loss[week] = loss[week - 1]! + grown;
  }
  const trueLevel = (day: number) =>
    Math.max(
      0.5,
      level + sway * Math.sin(day / 200) - loss[Math.min(weeks, Math.floor(day / step))]!,
    );
  let crossing: number | null = null;
  for (let day = 0; day <= weeks * step && crossing === null; day++)
    if (trueLevel(day) < limit) crossing = start + day;

  let end = trackedDays;
  if (crossing !== null) end = Math.min(end, crossing + 60 + Math.round(240 * chance.uniform()));
  else if (mode !== 'stable' && chance.uniform() < 0.15)
    end = Math.min(end, start + Math.round(1200 + 800 * chance.uniform()));

  const points: WearPoint[] = [];
  const isInError: boolean[] = [];
  let day = start + Math.round(90 * chance.uniform());
  while (day < end) {
    if (chance.uniform() >= scenario.missed) {
      const taken = reading(trueLevel(day - start), day, scenario, chance);
      points.push(taken.point);
      isInError.push(taken.isInError);
    }
    day += Math.max(20, Math.round(scenario.interval * (1 + 0.22 * chance.normal())));
  }
  const isStable = mode === 'stable';
  const isSudden = mode === 'sudden';
  const crossedInService = crossing !== null && crossing <= (points.at(-1)?.day ?? start);
  return {
    end,
    segment: { unit, points, isInError, isStable, isSudden, crossing, crossedInService },
  };
}

/** Mean loss, psi, t years into the segment. */
function meanLossOf(
  mode: WearMode,
  scenario: Scenario,
  chance: SeededRandom,
): (years: number) => number {
  if (mode === 'stable') return () => 0;
  if (mode === 'even') {
    const span = 4 * Math.exp(0.45 * chance.normal());
    return (years) => (3 * years) / span;
  }
  const onset = 6.5 * chance.uniform();
  if (mode === 'sudden') {
    const size = 1 + 4 * chance.uniform();
    return (years) => (years >= onset ? size : 0);
  }
  const span = (scenario.shape === 'power' ? 2 : 2.6) * Math.exp(0.3 * chance.normal());
  const power = 1.2 + 1.2 * chance.uniform();
  return scenario.shape === 'power'
    ? (years) => Math.min(12, 3 * (Math.max(0, years - onset) / span) ** power)
    : (years) =>
        Math.min(12, (3 * Math.expm1((2.5 * Math.max(0, years - onset)) / span)) / Math.expm1(2.5));
}

/** A gauge in 0.1 psi or 0.5 inHg; a visit in error is a wrong unit, a slipped digit or a cold engine. */
function reading(
  level: number,
  day: number,
  scenario: Scenario,
  chance: SeededRandom,
): { point: WearPoint; isInError: boolean } {
  const isInError = chance.uniform() < scenario.errorShare;
  const kind = chance.uniform();
  const isInches = chance.uniform() < 0.4;
  const grain = isInches ? 0.5 * 0.491154 : 0.1;
  let idle = level + scenario.noise * chance.normal();
  let lowest = 1.7 + 0.56 * level + scenario.lowestNoise * chance.normal();
  if (isInError) {
    if (kind < 0.25) {
      idle *= isInches ? 0.491154 : 1 / 0.491154;
      lowest *= isInches ? 0.491154 : 1 / 0.491154;
    } else if (kind < 0.5) {
      const slip = [-3, -2, -1, 1, 2, 3][Math.floor(6 * chance.uniform())]!;
      idle += slip;
    } else {
      const cold = 0.8 + 1.2 * chance.uniform();
      idle -= cold;
      lowest -= 0.56 * cold;
    }
  }
  const keyed = (value: number) => Math.max(0, Math.round(value / grain) * grain);
  return {
    isInError,
    point: {
      day,
      idleSle: toKilopascals(keyed(idle), 'psi'),
      lowestSle: toKilopascals(keyed(lowest), 'psi'),
    },
  };
}
