/** Stirling's series in powers of 1/x², from the Bernoulli numbers: B(2k) / (2k (2k - 1)). */
const stirling = [1 / 12, -1 / 360, 1 / 1260, -1 / 1680, 1 / 1188, -691 / 360360, 1 / 156] as const;

/**
 * Natural logarithm of the gamma function for x > 0: recurrence up to 12, then Stirling's series.
 * Absolute error near 1e-14. Source: Abramowitz and Stegun (1964) 6.1.15 and 6.1.41.
 *
 * @example logGamma(6) -> 4.787491742782046
 */
export function logGamma(x: number): number {
  let shifted = x;
  let product = 1;
  while (shifted < 12) product *= shifted++;
  const inverse = 1 / shifted;
  const square = inverse * inverse;
  let series = 0;
  for (let k = stirling.length - 1; k >= 0; k--) series = series * square + stirling[k]!;
  return (
    (shifted - 0.5) * Math.log(shifted) -
    shifted +
    0.5 * Math.log(2 * Math.PI) +
    series * inverse -
    Math.log(product)
  );
}
