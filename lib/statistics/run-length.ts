import { gaussLegendre } from '@/lib/statistics/gauss-legendre';
import { normal } from '@/lib/statistics/normal';
import { requirePositive } from '@/lib/statistics/require-samples';

/**
 * Mean number of steps from the last state until a chain exits, from its step probabilities and its
 * chances to exit: states are taken out one by one without a subtraction, so that long runs keep their
 * figures. Source: Grassmann, Taksar and Heyman, Operations Research 33 (1985) 1107-1116.
 */
function stepsToExit(steps: readonly Float64Array[], exit: Float64Array): number {
  const last = steps.length - 1;
  const time = new Float64Array(steps.length).fill(1);
  for (let out = 0; out < last; out++) {
    const leaving = steps[out]!;
    let elsewhere = exit[out]!;
    for (let j = out + 1; j <= last; j++) elsewhere += leaving[j]!;
    for (let i = out + 1; i <= last; i++) {
      const row = steps[i]!;
      const through = row[out]! / elsewhere;
      for (let j = out + 1; j <= last; j++) row[j]! += through * leaving[j]!;
      exit[i]! += through * exit[out]!;
      time[i]! += through * time[out]!;
    }
  }
  return time[last]! / exit[last]!;
}

/**
 * Mean number of steps until a chart's statistic leaves [-limit or barrier, limit], from `start`.
 * The statistic moves from z to `carry` z + `weight` X - `reference`, X normal with mean `shift`; at a
 * barrier of 0 it is held. Its integral equation becomes a chain at Gauss-Legendre nodes (Nystrom).
 */
function runLength(chart: {
  carry: number;
  weight: number;
  reference: number;
  limit: number;
  shift: number;
  start: number;
  hasBarrier: boolean;
}): number {
  const { carry, weight, reference, limit, shift, start, hasBarrier } = chart;
  const lower = hasBarrier ? 0 : -limit;
  const count = Math.min(300, 40 + Math.ceil((8 * (limit - lower)) / weight));
  const { nodes, weights } = gaussLegendre(count, lower, limit);
  const states = [...nodes, 0, start];
  const deviate = (from: number, to: number) => (to - carry * from + reference) / weight - shift;
  const exit = Float64Array.from(
    states,
    (from) =>
      normal.upperTail(deviate(from, limit)) + (hasBarrier ? 0 : normal.cdf(deviate(from, lower))),
  );
  const steps = states.map((from) => {
    const row = new Float64Array(states.length);
    for (const [j, to] of nodes.entries()) {
      row[j] = (weights[j]! * normal.pdf(deviate(from, to))) / weight;
    }
    if (hasBarrier) row[count] = normal.cdf(deviate(from, 0));
    return row;
  });
  return stepsToExit(steps, exit);
}

export interface CusumDesign {
  /** Allowance k, in standard deviations. */
  readonly reference: number;
  /** Decision interval h, in standard deviations. */
  readonly interval: number;
  /** Standing shift of the mean, in standard deviations; 0 unless given. */
  readonly shift?: number;
  readonly sided?: 'one' | 'two';
  /** Where the sums start, e.g. h/2 for a fast initial response; 0 unless given. */
  readonly headStart?: number;
}

/**
 * Mean number of readings until a cumulative-sum chart signals, from its start, for independent
 * normal readings. Two-sided by default: 1/L = 1/L(up) + 1/L(down) without a head start.
 * Source: Page, Biometrika 41 (1954) 100-115; Lucas and Crosier, Technometrics 24 (1982) 199-205.
 *
 * @example cusumRunLength({ reference: 0.5, interval: 4 }) -> 167.6837888
 */
export function cusumRunLength(design: CusumDesign): number {
  const { reference, interval, shift = 0, sided = 'two', headStart = 0 } = design;
  requirePositive({ interval });
  const side = (towards: number, start: number) =>
    runLength({
      carry: 1,
      weight: 1,
      reference,
      limit: interval,
      shift: towards,
      start,
      hasBarrier: true,
    });
  const up = side(shift, headStart);
  if (sided === 'one') return up;
  const down = side(-shift, headStart);
  if (headStart === 0) return 1 / (1 / up + 1 / down);
  const upFromZero = side(shift, 0);
  const downFromZero = side(-shift, 0);
  return (
    (up * downFromZero + down * upFromZero - upFromZero * downFromZero) /
    (upFromZero + downFromZero)
  );
}

export interface EwmaDesign {
  readonly lambda: number;
  /** Limits at L standard deviations of the settled statistic. */
  readonly limit: number;
  readonly shift?: number;
  /** `one` watches the upper side only and is held at the target from below. */
  readonly sided?: 'one' | 'two';
}

/**
 * Mean number of readings until an exponentially weighted moving average with fixed limits signals,
 * started at the target, for independent normal readings.
 * Source: Crowder, Technometrics 29 (1987) 401-407; Lucas and Saccucci, Technometrics 32 (1990) 1-12.
 *
 * @example ewmaRunLength({ lambda: 0.25, limit: 2.998 }) -> 499.836
 */
export function ewmaRunLength(design: EwmaDesign): number {
  const { lambda, limit, shift = 0, sided = 'two' } = design;
  requirePositive({ lambda, limit });
  if (lambda > 1) throw new RangeError(`lambda lies in 0 to 1, not ${lambda}`);
  return runLength({
    carry: 1 - lambda,
    weight: lambda,
    reference: 0,
    limit: limit * Math.sqrt(lambda / (2 - lambda)),
    shift,
    start: 0,
    hasBarrier: sided === 'one',
  });
}
