import { solveIncreasing } from '@/lib/statistics/find-root';
import { incompleteGamma } from '@/lib/statistics/incomplete-gamma';
import { requirePositive, requireProbability } from '@/lib/statistics/require-samples';

function cdf(x: number, degreesOfFreedom: number): number {
  requirePositive({ degreesOfFreedom });
  return incompleteGamma(degreesOfFreedom / 2, x / 2).lower;
}

function upperTail(x: number, degreesOfFreedom: number): number {
  requirePositive({ degreesOfFreedom });
  return incompleteGamma(degreesOfFreedom / 2, x / 2).upper;
}

function quantile(p: number, degreesOfFreedom: number): number {
  requireProbability(p);
  requirePositive({ degreesOfFreedom });
  if (p === 0) return 0;
  if (p === 1) return Infinity;
  const excess =
    p < 0.5
      ? (u: number) => Math.log(cdf(Math.exp(u), degreesOfFreedom)) - Math.log(p)
      : (u: number) => Math.log(1 - p) - Math.log(upperTail(Math.exp(u), degreesOfFreedom));
  return Math.exp(solveIncreasing(excess, Math.log(degreesOfFreedom)));
}

/**
 * Chi-square distribution, by the incomplete gamma function (Abramowitz and Stegun 26.4.19).
 *
 * @example chiSquare.quantile(0.95, 1) -> 3.841458820694124
 */
export const chiSquare = { cdf, upperTail, quantile } as const;
