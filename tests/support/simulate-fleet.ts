import type { WearPoint } from '@/lib/analysis/wear';
import type { KnownSegment } from '@/lib/analysis/wear/score-forecasts';
import { toKilopascals } from '@/lib/measure';

/**
 * Fleets with known truth for the wear forecast, other than the one it was designed on. All figures
 * are assumptions; psi and days. A segment starts at a level, is stable or wears (evenly, by a power,
 * exponentially, or all at once), and is read about every quarter until some time after it passes
 * 10 psi. Wear can come in gamma-distributed jumps instead of smoothly.
 */
export interface Scenario {
  readonly name: string;
  readonly units: number;
  /** Shares of the modes; what is left is stable. */
  readonly even: number;
  readonly accelerating: number;
  readonly sudden: number;
  readonly shape: 'power' | 'exponential';
  /** Mean size of one jump of wear, psi; 0 wears smoothly. */
  readonly jump: number;
  readonly noise: number;
  readonly errorShare: number;
  readonly startLevel: number;
  readonly startDeviation: number;
  /** Mean days between readings, and the share of readings left out. */
  readonly interval: number;
  readonly missed: number;
  readonly lowestNoise: number;
}

const base: Scenario = {
  name: 'A base',
  units: 300,
  even: 0.18,
  accelerating: 0.28,
  sudden: 0.08,
  shape: 'power',
  jump: 0.05,
  noise: 0.28,
  errorShare: 0.03,
  startLevel: 13.1,
  startDeviation: 0.43,
  interval: 95,
  missed: 0.08,
  lowestNoise: 0.3,
};
const exponential: Scenario = {
  ...base,
  name: 'B exponential, wear in jumps',
  shape: 'exponential',
  jump: 0.15,
};

export const scenarios: Readonly<Record<string, Scenario>> = {
  A: base,
  B: exponential,
  C: { ...base, name: 'C noise 0.35, 6% errors', noise: 0.35, errorShare: 0.06 },
  D: { ...base, name: 'D 85% stable', even: 0.05, accelerating: 0.08, sudden: 0.02 },
  E: { ...base, name: 'E read half as often', interval: 182, missed: 0.15 },
  F: {
    ...exponential,
    name: 'F as B, noise 0.32, 5% errors, 85% stable',
    noise: 0.32,
    errorShare: 0.05,
    even: 0.05,
    accelerating: 0.08,
    sudden: 0.02,
  },
  G: { ...base, name: 'G uneven start', startLevel: 12.6, startDeviation: 0.8, even: 0.3 },
  H: { ...exponential, name: 'H as B, noise 0.4, 5% errors', noise: 0.4, errorShare: 0.05 },
};

type WearMode = 'stable' | 'even' | 'accelerating' | 'sudden';

const yearDays = 365.25;
const trackedDays = Math.round(6.5 * yearDays);
const step = 7;
const limit = 10;

/** Mulberry32: a small seeded generator of uniforms. */
export function seededRandom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

const normalFrom = (random: () => number) => () =>
  Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());

/** Marsaglia and Tsang (2000), with the power trick below shape 1. */
function gamma(shape: number, random: () => number, normal: () => number): number {
  if (shape <= 0) return 0;
  if (shape < 1) return gamma(shape + 1, random, normal) * (1 - random()) ** (1 / shape);
  const d = shape - 1 / 3;
  const c = 1 / Math.sqrt(9 * d);
  for (;;) {
    const x = normal();
    const v = (1 + c * x) ** 3;
    if (v > 0 && Math.log(1 - random()) < 0.5 * x * x + d - d * v + d * Math.log(v)) return d * v;
  }
}

/** Segments of one fleet: equal scenario and seed give equal fleets. */
export function simulateFleet(scenario: Scenario, seed: number): KnownSegment[] {
  const random = seededRandom(seed);
  const normal = normalFrom(random);
  const segments: KnownSegment[] = [];
  for (let unit = 0; unit < scenario.units; unit++) {
    let start = 0;
    while (start < trackedDays - 200) {
      const { end, segment } = simulateSegment(scenario, `U${unit + 1}`, start, random, normal);
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
  random: () => number,
  normal: () => number,
): { end: number; segment: KnownSegment } {
  const draw = random();
  const { even, accelerating, sudden } = scenario;
  const mode: WearMode =
    draw < even
      ? 'even'
      : draw < even + accelerating
        ? 'accelerating'
        : draw < even + accelerating + sudden
          ? 'sudden'
          : 'stable';
  const level = scenario.startLevel + scenario.startDeviation * normal();
  const meanLoss = meanLossOf(mode, scenario, random, normal);

  const weeks = Math.ceil((14 * yearDays) / step);
  const loss = new Float64Array(weeks + 1);
  const sway = 0.03 * normal();
  for (let week = 1; week <= weeks; week++) {
    const rise = meanLoss((week * step) / yearDays) - meanLoss(((week - 1) * step) / yearDays);
    const grown =
      mode === 'sudden' || scenario.jump === 0
        ? rise
        : scenario.jump * gamma(rise / scenario.jump, random, normal);
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
  if (crossing !== null) end = Math.min(end, crossing + 60 + Math.round(240 * random()));
  else if (mode !== 'stable' && random() < 0.15)
    end = Math.min(end, start + Math.round(1200 + 800 * random()));

  const points: WearPoint[] = [];
  const isInError: boolean[] = [];
  let day = start + Math.round(90 * random());
  while (day < end) {
    if (random() >= scenario.missed) {
      const taken = reading(trueLevel(day - start), day, scenario, random, normal);
      points.push(taken.point);
      isInError.push(taken.isInError);
    }
    day += Math.max(20, Math.round(scenario.interval * (1 + 0.22 * normal())));
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
  random: () => number,
  normal: () => number,
): (years: number) => number {
  if (mode === 'stable') return () => 0;
  if (mode === 'even') {
    const span = 4 * Math.exp(0.45 * normal());
    return (years) => (3 * years) / span;
  }
  const onset = 6.5 * random();
  if (mode === 'sudden') {
    const size = 1 + 4 * random();
    return (years) => (years >= onset ? size : 0);
  }
  const span = (scenario.shape === 'power' ? 2 : 2.6) * Math.exp(0.3 * normal());
  const power = 1.2 + 1.2 * random();
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
  random: () => number,
  normal: () => number,
): { point: WearPoint; isInError: boolean } {
  const isInError = random() < scenario.errorShare;
  const kind = random();
  const isInches = random() < 0.4;
  const grain = isInches ? 0.5 * 0.491154 : 0.1;
  let idle = level + scenario.noise * normal();
  let lowest = 1.7 + 0.56 * level + scenario.lowestNoise * normal();
  if (isInError) {
    if (kind < 0.25) {
      idle *= isInches ? 0.491154 : 1 / 0.491154;
      lowest *= isInches ? 0.491154 : 1 / 0.491154;
    } else if (kind < 0.5) {
      const slip = [-3, -2, -1, 1, 2, 3][Math.floor(6 * random())]!;
      idle += slip;
    } else {
      const cold = 0.8 + 1.2 * random();
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
