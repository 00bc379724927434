import { solveIncreasing } from '@/lib/statistics/find-root';
import { incompleteBeta } from '@/lib/statistics/incomplete-beta';
import { normal } from '@/lib/statistics/normal';
import { requirePositive, requireProbability } from '@/lib/statistics/require-samples';

function cdf(x: number, degreesOfFreedom: number): number {
  requirePositive({ degreesOfFreedom });
  const square = x * x;
  const total = degreesOfFreedom + square;
  const bothTails = incompleteBeta(
    degreesOfFreedom / total,
    square / total,
    degreesOfFreedom / 2,
    0.5,
  );
  return x < 0 ? bothTails / 2 : 1 - bothTails / 2;
}

function quantile(p: number, degreesOfFreedom: number): number {
  requireProbability(p);
  requirePositive({ degreesOfFreedom });
  if (p === 0) return -Infinity;
  if (p === 1) return Infinity;
  if (p === 0.5) return 0;
  const tail = Math.min(p, 1 - p);
  const logarithm = solveIncreasing(
    (u) => Math.log(tail) - Math.log(cdf(-Math.exp(u), degreesOfFreedom)),
    Math.log(-normal.quantile(tail)),
  );
  return p < 0.5 ? -Math.exp(logarithm) : Math.exp(logarithm);
}

/**
 * Student's t distribution, any degrees of freedom above zero.
 * cdf by the incomplete beta function (Abramowitz and Stegun 26.7.1); the quantile solves it on the
 * logarithms, so that far tails keep their figures.
 *
 * @example studentT.quantile(0.975, 4) -> 2.776445105197779
 */
export const studentT = { cdf, quantile } as const;
