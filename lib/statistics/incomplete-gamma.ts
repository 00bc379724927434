import { logGamma } from '@/lib/statistics/log-gamma';

/**
 * Regularised incomplete gamma function, both parts, each accurate in its own tail.
 * Series below a + 1, continued fraction (modified Lentz) above.
 * Source: Abramowitz and Stegun (1964) 6.5.29 and 6.5.31.
 *
 * @example incompleteGamma(1, 2).lower -> 0.8646647167633873
 */
export function incompleteGamma(a: number, x: number): { lower: number; upper: number } {
  if (x <= 0) return { lower: 0, upper: 1 };
  const scale = Math.exp(a * Math.log(x) - x - logGamma(a));
  if (x < a + 1) {
    let term = 1 / a;
    let sum = term;
    for (let n = 1; term > 1e-17 * sum; n++) {
      term *= x / (a + n);
      sum += term;
    }
    const lower = Math.min(1, scale * sum);
    return { lower, upper: 1 - lower };
  }
  let b = x + 1 - a;
  let c = 1e300;
  let d = 1 / b;
  let fraction = d;
  for (let n = 1; n < 10_000; n++) {
    const numerator = -n * (n - a);
    b += 2;
    d = 1 / (numerator * d + b);
    c = b + numerator / c;
    fraction *= d * c;
    if (Math.abs(d * c - 1) < 1e-16) break;
  }
  const upper = Math.min(1, scale * fraction);
  return { lower: 1 - upper, upper };
}
