/**
 * Standard normal distribution and the exponential, tabulated for the loops of the wear library.
 *
 * Phi: fifth-order Taylor series about the nearest of nodes 1/32 apart, absolute error below 2e-12;
 * the nodes are filled by three-point Gauss-Legendre quadrature of the density. exp: fifth-order
 * series about nodes 1/16 apart, relative error below 2e-12.
 *
 * Source: Abramowitz and Stegun (1964), 26.2.1 and 25.4.29. `normalBelow(1.959963984540054)` is 0.975.
 */
const reach = 8.5;
const nodesPerUnit = 32;
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

/** Probability that a standard normal variable is below x. */
export function normalBelow(x: number): number {
  if (x <= -reach) return 0;
  if (x >= reach) return 1;
  const k = ((x + reach) * nodesPerUnit + 0.5) | 0;
  const node = k / nodesPerUnit - reach;
  const d = x - node;
  const square = node * node;
  return (
    cumulative[k]! +
    density[k]! *
      d *
      (1 +
        d *
          (-node / 2 +
            d *
              ((square - 1) / 6 +
                d * ((node * (3 - square)) / 24 + (d * ((square - 6) * square + 3)) / 120))))
  );
}

const exponentialReach = 44;
const exponentials = new Float64Array(exponentialReach * 16 + 1);
for (let k = 0; k < exponentials.length; k++) exponentials[k] = Math.exp(-k / 16);

/** exp(-x) for x at or above 0; 0 where it is below 1e-19. */
export function exponentialOfMinus(x: number): number {
  if (x >= exponentialReach) return 0;
  const k = (x * 16 + 0.5) | 0;
  const d = k / 16 - x;
  return (
    exponentials[k]! * (1 + d * (1 + d * (1 / 2 + d * (1 / 6 + d * (1 / 24 + d * (1 / 120))))))
  );
}
