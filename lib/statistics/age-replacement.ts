import { findRoot } from '@/lib/statistics/find-root';
import { incompleteGamma } from '@/lib/statistics/incomplete-gamma';
import { requirePositive } from '@/lib/statistics/require-samples';
import { weibull } from '@/lib/statistics/weibull';

export interface ReplacementCosts {
  /** Weibull shape and scale of the life. */
  readonly shape: number;
  readonly scale: number;
  readonly plannedCost: number;
  readonly failureCost: number;
}

export type AgeReplacement = {
  /** Cost a unit of use: at `age`, or of running to failure when there is none. */
  readonly costRate: number;
  readonly runToFailureCostRate: number;
} & (
  | { readonly age: number; readonly whyNone: null }
  | {
      readonly age: null;
      readonly whyNone: 'does not wear out' | 'failure costs no more' | 'later than any would last';
    }
);

/** exp(-700) is about the least survival that a double holds. */
const mostCumulativeHazard = 700;

/**
 * Age at which replacing a part as planned costs least over the long run.
 *
 * C(T) = (failureCost F(T) + plannedCost S(T)) / integral of S to T is least where
 * h(T) integral - F(T) = plannedCost / (failureCost - plannedCost), h the failure rate.
 * Source: Barlow and Hunter, Operations Research 8 (1960) 90-100.
 *
 * A shape of 1 or less, or a failure that costs no more than planned work: no age, and the cost rate
 * of running to failure.
 *
 * @example ageReplacement({ shape: 2.5, scale: 1000, plannedCost: 1, failureCost: 5 }).age -> 493.04696
 */
export function ageReplacement(costs: ReplacementCosts): AgeReplacement {
  const { shape, scale, plannedCost, failureCost } = costs;
  requirePositive({ shape, scale, plannedCost, failureCost });
  const mean = weibull.meanLife(shape, scale);
  const runToFailureCostRate = failureCost / mean;
  const none = (whyNone: NonNullable<AgeReplacement['whyNone']>): AgeReplacement => ({
    age: null,
    costRate: runToFailureCostRate,
    runToFailureCostRate,
    whyNone,
  });
  if (shape <= 1) return none('does not wear out');
  if (failureCost <= plannedCost) return none('failure costs no more');

  const failureRate = (hazard: number) => (shape / scale) * hazard ** (1 - 1 / shape);
  const target = plannedCost / (failureCost - plannedCost);
  const excess = (logHazard: number): number => {
    const hazard = Math.exp(logHazard);
    const usedLife = mean * incompleteGamma(1 / shape, hazard).lower;
    return failureRate(hazard) * usedLife + Math.expm1(-hazard) - target;
  };
  const last = Math.log(mostCumulativeHazard);
  if (excess(last) <= 0) return none('later than any would last');
  const hazard = Math.exp(findRoot(excess, -last, last));
  return {
    age: scale * hazard ** (1 / shape),
    costRate: (failureCost - plannedCost) * failureRate(hazard),
    runToFailureCostRate,
    whyNone: null,
  };
}
