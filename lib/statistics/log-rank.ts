import { chiSquare } from '@/lib/statistics/chi-square';
import { requireSamples, type Samples } from '@/lib/statistics/require-samples';
import { solveLinear } from '@/lib/statistics/solve-linear';

export interface LivesOfGroup {
  readonly times: Samples;
  readonly failed: ArrayLike<boolean | number>;
}

export type LogRank =
  | {
      readonly chiSquare: number;
      readonly degreesOfFreedom: number;
      readonly p: number;
      readonly whyNone: null;
    }
  | {
      readonly chiSquare: null;
      readonly degreesOfFreedom: null;
      readonly p: null;
      readonly whyNone: 'fewer than 2 groups at risk' | 'no failures';
    };

const none = (whyNone: 'fewer than 2 groups at risk' | 'no failures'): LogRank => ({
  chiSquare: null,
  degreesOfFreedom: null,
  p: null,
  whyNone,
});

/**
 * Log-rank test of whether groups fail at the same rate: at each failure time the failures expected
 * of a group are its share of those at risk; chi-square = (O - E)' V^-1 (O - E), hypergeometric V.
 * Source: Mantel, Cancer Chemotherapy Reports 50 (1966) 163-170; Peto and Peto (1972); figures as R's
 * survival::survdiff.
 *
 * Groups with no one at risk at any failure are left out; fewer than two others, or no failure at
 * all, are named in `whyNone`.
 *
 * @example logRank([{ times: [1, 2], failed: [1, 1] }, { times: [3, 4], failed: [1, 1] }]).degreesOfFreedom -> 1
 */
export function logRank(groups: readonly LivesOfGroup[]): LogRank {
  for (const { times, failed } of groups) requireSamples(times, Array.from(failed, Number));
  const lives = groups.flatMap(({ times, failed }, group) =>
    Array.from(times, (time, i) => ({ time, group, hasFailed: Boolean(failed[i]) })),
  );
  if (!lives.some(({ hasFailed }) => hasFailed)) return none('no failures');
  lives.sort((a, b) => a.time - b.time);
  const atRisk = groups.map(({ times }) => times.length);
  const excess = groups.map(() => 0);
  const expected = groups.map(() => 0);
  const variance = groups.map(() => groups.map(() => 0));
  for (let start = 0; start < lives.length; ) {
    const total = lives.length - start;
    const leaving = groups.map(() => 0);
    const failures = groups.map(() => 0);
    let end = start;
    for (; end < lives.length && lives[end]!.time === lives[start]!.time; end++) {
      const { group, hasFailed } = lives[end]!;
      leaving[group]!++;
      if (hasFailed) failures[group]!++;
    }
    const failed = failures.reduce((sum, count) => sum + count, 0);
    const spread = total > 1 ? (failed * (total - failed)) / (total - 1) : 0;
    for (let g = 0; g < groups.length; g++) {
      const share = atRisk[g]! / total;
      expected[g]! += failed * share;
      excess[g]! += failures[g]! - failed * share;
      for (let h = 0; h < groups.length; h++) {
        variance[g]![h]! += spread * share * ((g === h ? 1 : 0) - atRisk[h]! / total);
      }
    }
    for (let g = 0; g < groups.length; g++) atRisk[g]! -= leaving[g]!;
    start = end;
  }
  // The excesses sum to nought, so one group tells nothing that the others do not.
  const kept = expected.flatMap((value, g) => (value > 0 ? [g] : [])).slice(1);
  const solution = solveLinear(
    kept.map((g) => kept.map((h) => variance[g]![h]!)),
    kept.map((g) => excess[g]!),
  );
  if (kept.length === 0 || solution === null) return none('fewer than 2 groups at risk');
  const statistic = Math.max(
    0,
    kept.reduce((sum, g, i) => sum + excess[g]! * solution[i]!, 0),
  );
  return {
    chiSquare: statistic,
    degreesOfFreedom: kept.length,
    p: chiSquare.upperTail(statistic, kept.length),
    whyNone: null,
  };
}
