const rootTwoPi = Math.sqrt(2 * Math.PI);

/**
 * Mills ratio of the standard normal: upper tail over density, for x >= 0. It keeps full relative
 * accuracy where the tail itself underflows.
 *
 * Below 1: sqrt(pi/2) exp(x²/2) less the series x + x³/3 + x⁵/15 + ..., (2k+1)!! in the denominators.
 * From 1: Laplace's continued fraction 1/(x + 1/(x + 2/(x + 3/(x + ...)))).
 * Source: Abramowitz and Stegun (1964) 26.2.11 and 26.2.14.
 *
 * @example millsRatio(1) -> 0.6556795424187985
 */
export function millsRatio(x: number): number {
  if (x < 1) {
    let term = x;
    let sum = 0;
    for (let k = 3; term > 1e-18 * sum; k += 2) {
      sum += term;
      term *= (x * x) / k;
    }
    return 0.5 * rootTwoPi * Math.exp((x * x) / 2) - sum;
  }
  let fraction = x;
  for (let k = Math.ceil(400 / (x * x)) + 16; k > 0; k--) fraction = x + k / fraction;
  return 1 / fraction;
}
