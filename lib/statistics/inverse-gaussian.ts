import { solveIncreasing } from '@/lib/statistics/find-root';
import { millsRatio } from '@/lib/statistics/mills-ratio';
import { normal } from '@/lib/statistics/normal';
import { requirePositive, requireProbability } from '@/lib/statistics/require-samples';

function pdf(x: number, mean: number, shape: number): number {
  requirePositive({ mean, shape });
  if (x <= 0) return 0;
  return (
    Math.sqrt(shape / (2 * Math.PI * x ** 3)) *
    Math.exp((-shape * (x - mean) ** 2) / (2 * mean * mean * x))
  );
}

function cdf(x: number, mean: number, shape: number): number {
  requirePositive({ mean, shape });
  if (x <= 0) return 0;
  const root = Math.sqrt(shape / x);
  const near = root * (x / mean - 1);
  const far = root * (x / mean + 1);
  // exp(2 shape / mean) overflows; its product with the far tail is density(near) times Mills(far).
  const reflected = normal.pdf(near) * millsRatio(far);
  return Math.min(1, normal.cdf(near) + reflected);
}

function upperTail(x: number, mean: number, shape: number): number {
  requirePositive({ mean, shape });
  if (x <= 0) return 1;
  const root = Math.sqrt(shape / x);
  const near = root * (x / mean - 1);
  const far = root * (x / mean + 1);
  if (near < 0) return 1 - cdf(x, mean, shape);
  return normal.pdf(near) * (millsRatio(near) - millsRatio(far));
}

function quantile(p: number, mean: number, shape: number): number {
  requireProbability(p);
  requirePositive({ mean, shape });
  if (p === 0) return 0;
  if (p === 1) return Infinity;
  const excess =
    p < 0.5
      ? (u: number) => Math.log(cdf(Math.exp(u), mean, shape)) - Math.log(p)
      : (u: number) => Math.log(1 - p) - Math.log(upperTail(Math.exp(u), mean, shape));
  return Math.exp(solveIncreasing(excess, Math.log(mean)));
}

/**
 * Inverse Gaussian distribution: the time at which a Wiener process of drift v and variance s² a
 * unit of time first covers a distance a, with mean a/v and shape a²/s².
 *
 * F(x) = Phi(sqrt(shape/x)(x/mean - 1)) + exp(2 shape/mean) Phi(-sqrt(shape/x)(x/mean + 1)).
 * Source: Chhikara and Folks, The Inverse Gaussian Distribution (1989), section 2.
 *
 * @example inverseGaussian.cdf(1, 1, 1) -> 0.668102001223171
 */
export const inverseGaussian = { pdf, cdf, upperTail, quantile } as const;
