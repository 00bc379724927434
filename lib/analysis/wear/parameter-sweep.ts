import type { FleetPrior } from '@/lib/analysis/wear/default-fleet-prior';

type Parameter = 'noise' | 'errorShare' | 'wearNoise' | 'startDeviation' | 'startLevel';

interface Axis {
  readonly parameter: Parameter;
  readonly isLogarithmic: boolean;
  /** Normal prior of the parameter, or of its logarithm. */
  readonly centre: number;
  readonly deviation: number;
  /** Half width of the parabola, on the same scale. */
  readonly halfWidth: number;
  readonly most: number;
}

const unbounded = Number.POSITIVE_INFINITY;

const logarithmic = (
  parameter: Parameter,
  centre: number,
  deviation: number,
  halfWidth: number,
  most = unbounded,
): Axis => ({ parameter, isLogarithmic: true, centre, deviation, halfWidth, most });

/** In the order in which a sweep visits them. */
export const axes: readonly Axis[] = [
  logarithmic('noise', 0.3, 0.5, 0.15),
  logarithmic('errorShare', 0.04, 0.7, 0.4, 0.2),
  logarithmic('wearNoise', 0.06, 0.7, 0.5),
  logarithmic('startDeviation', 0.6, 0.5, 0.2),
  {
    parameter: 'startLevel',
    isLogarithmic: false,
    centre: 13,
    deviation: 0.6,
    halfWidth: 0.15,
    most: unbounded,
  },
];

export function logPrior(prior: FleetPrior): number {
  let sum = 0;
  for (const { parameter, isLogarithmic, centre, deviation } of axes) {
    const away = isLogarithmic ? Math.log(prior[parameter] / centre) : prior[parameter] - centre;
    sum -= 0.5 * (away / deviation) ** 2;
  }
  return sum;
}

/**
 * One step to the top of the parabola through three points, at most two half widths; where the three
 * points show no top, two half widths towards the better side.
 */
export function parabolaStep(below: number, middle: number, above: number): number {
  const curvature = below - 2 * middle + above;
  if (curvature >= 0) return above > below ? 2 : above < below ? -2 : 0;
  return Math.max(-2, Math.min(2, (below - above) / (2 * curvature)));
}

/** One pass over the parameters, each moved by one parabola step. */
export function sweepParameters(
  prior: FleetPrior,
  widthScale: number,
  objective: (prior: FleetPrior) => number,
  fixed: readonly Parameter[],
): FleetPrior {
  let current = prior;
  let height = objective(current);
  for (const axis of axes) {
    if (fixed.includes(axis.parameter)) continue;
    const width = axis.halfWidth * widthScale;
    const moved = (steps: number): FleetPrior => {
      const from = current[axis.parameter];
      const to = axis.isLogarithmic ? from * Math.exp(steps * width) : from + steps * width;
      return { ...current, [axis.parameter]: Math.min(to, axis.most) };
    };
    const step = parabolaStep(objective(moved(-1)), height, objective(moved(1)));
    const next = moved(step);
    const reached = objective(next);
    if (reached <= height) continue;
    current = next;
    height = reached;
  }
  return current;
}
