/**
 * Nodes and weights of Gauss-Legendre quadrature on [lower, upper], ascending: exact for polynomials
 * up to degree 2 count - 1. Source: Abramowitz and Stegun (1964) 25.4.29, nodes by Newton's method.
 *
 * @example gaussLegendre(2, 0, 1).weights -> [0.5, 0.5]
 */
export function gaussLegendre(
  count: number,
  lower: number,
  upper: number,
): { readonly nodes: readonly number[]; readonly weights: readonly number[] } {
  const half = (upper - lower) / 2;
  const nodes: number[] = [];
  const weights: number[] = [];
  for (let i = count; i > 0; i--) {
    let x = Math.cos((Math.PI * (i - 0.25)) / (count + 0.5));
    let derivative = 1;
    for (let round = 0; round < 8; round++) {
      let previous = 1;
      let current = x;
      for (let k = 2; k <= count; k++) {
        [previous, current] = [current, ((2 * k - 1) * x * current - (k - 1) * previous) / k];
      }
      derivative = (count * (x * current - previous)) / (x * x - 1);
      x -= current / derivative;
    }
    nodes.push(lower + half * (1 + x));
    weights.push((2 * half) / ((1 - x * x) * derivative * derivative));
  }
  return { nodes, weights };
}
