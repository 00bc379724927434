import type { Scenario } from '@/lib/analysis/backtest/fleet-scenarios';
import type { KnownSegment } from '@/lib/analysis/backtest/score-forecasts';
import type { WearPoint } from '@/lib/analysis/wear';
import { toKilopascals } from '@/lib/measure';
import { type SeededRandom, seededRandom } from '@/lib/statistics/seeded-random';

export type WearMode = 'stable' | 'even' | 'accelerating' | 'sudden';

const yearDays = 365.25;
const trackedDays = Math.round(6.5 * yearDays);
/** Wear is followed by the week, for longer than units are. Days, psi. */
export const step = 7;
export const weeks = Math.ceil((14 * yearDays) / step);
export const limit = 10;

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

  const sway = 0.03 * chance.normal();
  const loss = weeklyLoss(meanLoss, mode === 'sudden' ? 0 : scenario.jump, chance);
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

/** Loss by week, psi: the mean loss itself, or gamma-distributed jumps of mean size `jump` about it. */
export function weeklyLoss(
  meanLoss: (years: number) => number,
  jump: number,
  chance: SeededRandom,
): Float64Array {
  const loss = new Float64Array(weeks + 1);
  for (let week = 1; week <= weeks; week++) {
    const rise = meanLoss((week * step) / yearDays) - meanLoss(((week - 1) * step) / yearDays);
    loss[week] = loss[week - 1]! + (jump === 0 ? rise : jump * chance.gamma(rise / jump));
  }
  return loss;
}

/** Mean loss, psi, t years into the segment. */
export function meanLossOf(
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

export const psiPerInch = 0.491154;
/** Share of gauges in inHg, and what a gauge of either kind is read to, psi. */
export const inchesShare = 0.4;
export const grains = { inches: 0.5 * psiPerInch, psi: 0.1 } as const;
/** Digits slipped, and what a cold engine lacks, psi. */
export const slips = [-3, -2, -1, 1, 2, 3] as const;
export const coldEngine = { least: 0.8, range: 1.2 } as const;
const lowestPerIdle = 0.56;
export const lowestOf = (idle: number): number => 1.7 + lowestPerIdle * idle;

/** A gauge in 0.1 psi or 0.5 inHg; a visit in error is a wrong unit, a slipped digit or a cold engine. */
function reading(
  level: number,
  day: number,
  scenario: Scenario,
  chance: SeededRandom,
): { point: WearPoint; isInError: boolean } {
  const isInError = chance.uniform() < scenario.errorShare;
  const kind = chance.uniform();
  const isInches = chance.uniform() < inchesShare;
  const grain = isInches ? grains.inches : grains.psi;
  let idle = level + scenario.noise * chance.normal();
  let lowest = lowestOf(level) + scenario.lowestNoise * chance.normal();
  if (isInError) {
    if (kind < 0.25) {
      const factor = isInches ? psiPerInch : 1 / psiPerInch;
      idle *= factor;
      lowest *= factor;
    } else if (kind < 0.5) {
      idle += slips[Math.floor(slips.length * chance.uniform())]!;
    } else {
      const cold = coldEngine.least + coldEngine.range * chance.uniform();
      idle -= cold;
      lowest -= lowestPerIdle * cold;
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
