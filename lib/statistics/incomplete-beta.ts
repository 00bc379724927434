import { logGamma } from '@/lib/statistics/log-gamma';

/** Continued fraction of the incomplete beta function (modified Lentz), for x below its mean. */
function betaFraction(x: number, a: number, b: number): number {
  let c = 1;
  let d = 1 / (1 - ((a + b) * x) / (a + 1));
  let fraction = d;
  for (let m = 1; m < 10_000; m++) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / (1 + even * d);
    c = 1 + even / c;
    fraction *= d * c;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / (1 + odd * d);
    c = 1 + odd / c;
    fraction *= d * c;
    if (Math.abs(d * c - 1) < 1e-16) break;
  }
  return fraction;
}

/**
 * Regularised incomplete beta function I_x(a, b). Takes x and 1 - x both, since a caller often has
 * the smaller of the two exactly. Source: Abramowitz and Stegun (1964) 26.5.8.
 *
 * @example incompleteBeta(0.25, 0.75, 1, 2) -> 0.4375
 */
export function incompleteBeta(x: number, complement: number, a: number, b: number): number {
  if (x <= 0) return 0;
  if (complement <= 0) return 1;
  const logBeta = logGamma(a) + logGamma(b) - logGamma(a + b);
  const front = Math.exp(a * Math.log(x) + b * Math.log(complement) - logBeta);
  return x < (a + 1) / (a + b + 2)
    ? (front * betaFraction(x, a, b)) / a
    : 1 - (front * betaFraction(complement, b, a)) / b;
}
