/**
 * Point where a function of several variables is least, near `start`, by the simplex of Nelder and
 * Mead, The Computer Journal 7 (1965) 308-313; restarted until a restart gains nothing. At most 20
 * starts of 400 steps a variable: where there is no bottom, the lowest point that they met.
 *
 * @example minimise(([x]) => (x - 2) ** 2, [0])[0].toFixed(6) -> "2.000000"
 */
export function minimise(
  f: (point: readonly number[]) => number,
  start: readonly number[],
): readonly number[] {
  let best = { point: start, value: f(start) };
  for (let restart = 0; restart < 20; restart++) {
    const next = descend(f, best.point);
    const gained = best.value - next.value;
    best = next;
    if (!(gained > 1e-12 * (1 + Math.abs(best.value)))) break;
  }
  return best.point;
}

function descend(f: (point: readonly number[]) => number, start: readonly number[]) {
  const vertex = (point: readonly number[]) => ({ point, value: f(point) });
  const simplex = [
    vertex(start),
    ...start.map((_, i) =>
      vertex(
        start.map((value, j) => (i === j ? value + 0.1 * Math.max(Math.abs(value), 1) : value)),
      ),
    ),
  ];
  const worst = simplex.length - 1;
  for (let round = 0; round < 400 * start.length; round++) {
    simplex.sort((a, b) => a.value - b.value);
    if (simplex[worst]!.value - simplex[0]!.value <= 1e-14 * (1 + Math.abs(simplex[0]!.value))) {
      break;
    }
    const centre = start.map(
      (_, j) => simplex.slice(0, worst).reduce((sum, { point }) => sum + point[j]!, 0) / worst,
    );
    const along = (factor: number) =>
      vertex(centre.map((value, j) => value + factor * (simplex[worst]!.point[j]! - value)));
    const mirrored = along(-1);
    if (mirrored.value < simplex[0]!.value) {
      const further = along(-2);
      simplex[worst] = further.value < mirrored.value ? further : mirrored;
    } else if (mirrored.value < simplex[worst - 1]!.value) {
      simplex[worst] = mirrored;
    } else {
      const nearer = along(mirrored.value < simplex[worst]!.value ? -0.5 : 0.5);
      if (nearer.value < Math.min(mirrored.value, simplex[worst]!.value)) {
        simplex[worst] = nearer;
      } else {
        for (let i = 1; i <= worst; i++) {
          simplex[i] = vertex(
            simplex[i]!.point.map((value, j) => (value + simplex[0]!.point[j]!) / 2),
          );
        }
      }
    }
  }
  simplex.sort((a, b) => a.value - b.value);
  return simplex[0]!;
}
