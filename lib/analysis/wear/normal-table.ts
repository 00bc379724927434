/**
 * Standard normal distribution and the exponential, tabulated for the loops of the wear library.
 *
 * Phi: third-order Taylor series about the nearest of nodes 1/64 apart, absolute error below 3e-10;
 * the nodes are filled by three-point Gauss-Legendre quadrature of the density. exp: fourth-order
 * series about nodes 1/64 apart, relative error below 2e-12.
 *
 * Source: Abramowitz and Stegun (1964), 26.2.1 and 25.4.29. `normalBelow(1.959963984540054)` is 0.975.
 */
const reach = 8.5;
const nodesPerUnit = 64;
const nodes = 2 * reach * nodesPerUnit + 1;
const cumulative = new Float64Array(nodes);
const density = new Float64Array(nodes);
{
  const peak = 1 / Math.sqrt(2 * Math.PI);
  const at = (x: number) => peak * Math.exp(-0.5 * x * x);
  const half = 0.5 / nodesPerUnit;
  const abscissa = half * Math.sqrt(0.6);
  let sum = 0;
  for (let k = 0; k < nodes; k++) {
    const x = k / nodesPerUnit - reach;
    cumulative[k] = sum;
    density[k] = at(x);
    const middle = x + half;
    sum += (half / 9) * (5 * at(middle - abscissa) + 8 * at(middle) + 5 * at(middle + abscissa));
  }
}

const sixth = 1 / 6;
const twentyFourth = 1 / 24;

/** Probability that a standard normal variable is below x. */
export function normalBelow(x: number): number {
  if (x <= -reach) return 0;
  if (x >= reach) return 1;
  const k = ((x + reach) * nodesPerUnit + 0.5) | 0;
  const node = k / nodesPerUnit - reach;
  const d = x - node;
  const slope = 1 + d * (-0.5 * node + d * sixth * (node * node - 1));
  return cumulative[k]! + density[k]! * d * slope;
}

const exponentialReach = 44;
const exponentials = new Float64Array(exponentialReach * nodesPerUnit + 1);
for (let k = 0; k < exponentials.length; k++) exponentials[k] = Math.exp(-k / nodesPerUnit);

/** exp(-x) for x at or above 0; 0 where it is below 1e-19. */
export function exponentialOfMinus(x: number): number {
  if (x >= exponentialReach) return 0;
  const k = (x * nodesPerUnit + 0.5) | 0;
  const d = k / nodesPerUnit - x;
  return exponentials[k]! * (1 + d * (1 + d * (0.5 + d * (sixth + d * twentyFourth))));
}
