/**
 * Number of successes in independent trials with unequal probabilities, built up one trial at a time
 * by the exact convolution (Wang, Statistica Sinica 3, 1993). No trials: 0 for certain.
 *
 * `poissonBinomial([0.5, 0.5])` is [0.25, 0.5, 0.25].
 */
export const poissonBinomial = (probabilities: readonly number[]): readonly number[] =>
  probabilities.reduce(withTrial, [1]);

/** The distribution with one trial more. */
export function withTrial(distribution: readonly number[], probability: number): number[] {
  const next = [...distribution.map((mass) => mass * (1 - probability)), 0];
  distribution.forEach((mass, count) => {
    next[count + 1]! += mass * probability;
  });
  return next;
}

/** Least count that is not exceeded with the probability asked for. `countQuantile([.25, .5, .25], .75)` is 1. */
export function countQuantile(distribution: readonly number[], probability: number): number {
  let cumulated = 0;
  const count = distribution.findIndex((mass) => {
    cumulated += mass;
    return cumulated >= probability - 1e-12;
  });
  return count === -1 ? distribution.length - 1 : count;
}
