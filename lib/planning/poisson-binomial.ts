/** How probable each count is, from `least` upwards; counts left out are rarer than 1e-15. */
export interface CountDistribution {
  readonly least: number;
  readonly masses: readonly number[];
}

const leastMass = 1e-15;

export const noneForCertain: CountDistribution = { least: 0, masses: [1] };

/** Distribution of the sum of two independent counts. */
export function sumOfCounts(a: CountDistribution, b: CountDistribution): CountDistribution {
  const masses = new Array<number>(a.masses.length + b.masses.length - 1).fill(0);
  a.masses.forEach((mass, i) => {
    for (let j = 0; j < b.masses.length; j++) masses[i + j]! += mass * b.masses[j]!;
  });
  let from = 0;
  let to = masses.length;
  while (from < to - 1 && masses[from]! < leastMass) from++;
  while (to > from + 1 && masses[to - 1]! < leastMass) to--;
  return { least: a.least + b.least + from, masses: masses.slice(from, to) };
}

/**
 * Number of successes in independent trials with unequal probabilities: the exact convolution, halves
 * first, so that thousands of trials stay quick (Wang, Statistica Sinica 3, 1993, for the
 * distribution). No trials: 0 for certain.
 *
 * `poissonBinomial([0.5, 0.5])` has masses [0.25, 0.5, 0.25] from 0.
 */
export function poissonBinomial(probabilities: readonly number[]): CountDistribution {
  if (probabilities.length === 0) return noneForCertain;
  if (probabilities.length === 1) {
    const [p] = probabilities as [number];
    if (p <= 0) return noneForCertain;
    return p >= 1 ? { least: 1, masses: [1] } : { least: 0, masses: [1 - p, p] };
  }
  const half = probabilities.length >> 1;
  return sumOfCounts(
    poissonBinomial(probabilities.slice(0, half)),
    poissonBinomial(probabilities.slice(half)),
  );
}

/** Least count that is not exceeded with the probability asked for: 1 of those masses for 0.75. */
export function countQuantile({ least, masses }: CountDistribution, probability: number): number {
  let cumulated = 0;
  const at = masses.findIndex((mass) => {
    cumulated += mass;
    return cumulated >= probability - 1e-12;
  });
  return least + (at === -1 ? masses.length - 1 : at);
}
