import { logGamma } from '@/lib/statistics/log-gamma';
import { requirePositive, requireProbability } from '@/lib/statistics/require-samples';

function survival(time: number, shape: number, scale: number): number {
  requirePositive({ shape, scale });
  return time <= 0 ? 1 : Math.exp(-((time / scale) ** shape));
}

function quantile(p: number, shape: number, scale: number): number {
  requirePositive({ shape, scale });
  requireProbability(p);
  return scale * (-Math.log1p(-p)) ** (1 / shape);
}

function meanLife(shape: number, scale: number): number {
  requirePositive({ shape, scale });
  return scale * Math.exp(logGamma(1 + 1 / shape));
}

/**
 * Weibull distribution of lives: S(t) = exp(-(t / scale)^shape); mean scale Gamma(1 + 1/shape).
 *
 * @example weibull.meanLife(2, 1) -> 0.886226925452758
 */
export const weibull = { survival, quantile, meanLife } as const;
