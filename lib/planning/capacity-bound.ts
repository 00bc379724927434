import type { PlanGrid } from '@/lib/planning/plan-grid';

export interface CapacityBound {
  /** No plan costs less. */
  readonly cost: number;
  /** Price of a bay minute in each column at the bound; the outside is free. */
  readonly prices: Float64Array;
}

const largestGroup = 6;

/**
 * Cheapest way to do some jobs of one unit at given prices: every way to part them into visits is
 * weighed (dynamic programming over subsets), so the bound keeps whole jobs and shared visits.
 * Adds the minutes taken in each column to `taken`.
 */
function cheapestVisits(
  grid: PlanGrid,
  jobs: readonly number[],
  share: number,
  prices: Float64Array,
  taken: Float64Array,
): number {
  const { width, outside, cost, minutes, setUpMinutes, visitCost } = grid;
  const all = (1 << jobs.length) - 1;
  const groupCost = new Float64Array(all + 1).fill(Number.POSITIVE_INFINITY);
  const groupSlot = new Int32Array(all + 1);
  const sums = new Float64Array(all + 1);
  for (let slot = 0; slot < width; slot++) {
    const opening = slot === outside ? 0 : share * (visitCost + prices[slot]! * setUpMinutes);
    for (let set = 1; set <= all; set++) {
      const lowest = 31 - Math.clz32(set & -set);
      const job = jobs[lowest]!;
      sums[set] =
        sums[set & (set - 1)]! + cost[job * width + slot]! + prices[slot]! * minutes[job]!;
      const total = sums[set]! + opening;
      if (total < groupCost[set]!) {
        groupCost[set] = total;
        groupSlot[set] = slot;
      }
    }
  }
  const best = new Float64Array(all + 1);
  const chosen = new Int32Array(all + 1);
  for (let set = 1; set <= all; set++) {
    best[set] = Number.POSITIVE_INFINITY;
    for (let group = set; group > 0; group = (group - 1) & set) {
      const total = groupCost[group]! + best[set ^ group]!;
      if (total < best[set]!) {
        best[set] = total;
        chosen[set] = group;
      }
    }
  }
  for (let set = all; set > 0; set ^= chosen[set]!) {
    const group = chosen[set]!;
    const slot = groupSlot[group]!;
    if (slot === outside) continue;
    taken[slot]! += share * setUpMinutes;
    jobs.forEach((job, at) => {
      if (group & (1 << at)) taken[slot]! += minutes[job]!;
    });
  }
  return best[all]!;
}

/**
 * Lower bound of the plan's cost by Lagrangian relaxation of the bay hours (Fisher 1981): at any
 * price of a bay minute, the units' cheapest visits less the worth of all hours open is a bound;
 * subgradient steps (Held, Wolfe and Crowder 1974) towards `target`, a cost that some plan has,
 * raise it. A unit with more than six jobs is weighed in parts that each bear a share of the visit.
 */
export function capacityBound(grid: PlanGrid, target: number, rounds = 400): CapacityBound {
  const { outside, width, capacity } = grid;
  const prices = new Float64Array(width);
  const groups = grid.jobsOfUnit.flatMap((jobs) => {
    const parts = Math.ceil(jobs.length / largestGroup);
    return Array.from({ length: parts }, (_, part) => ({
      jobs: jobs.slice(part * largestGroup, (part + 1) * largestGroup),
      share: 1 / parts,
    }));
  });
  let bound = { cost: Number.NEGATIVE_INFINITY, prices: prices.slice() };
  let agility = 2;
  let stalled = 0;
  const taken = new Float64Array(width);
  for (let round = 0; round < rounds; round++) {
    taken.fill(0);
    let value = 0;
    for (const { jobs, share } of groups) value += cheapestVisits(grid, jobs, share, prices, taken);
    for (let slot = 0; slot < outside; slot++) value -= prices[slot]! * capacity[slot]!;
    if (value > bound.cost + 1e-6 * Math.abs(target)) stalled = 0;
    else stalled++;
    if (value > bound.cost) bound = { cost: value, prices: prices.slice() };
    if (stalled >= 10) {
      agility /= 2;
      stalled = 0;
      prices.set(bound.prices);
    }
    let norm = 0;
    for (let slot = 0; slot < outside; slot++) {
      const excess = taken[slot]! - capacity[slot]!;
      if (excess > 0 || prices[slot]! > 0) norm += excess * excess;
    }
    if (norm === 0 || agility < 1e-4) break;
    const step = (agility * Math.max(target - value, 1e-6 * Math.abs(target))) / norm;
    for (let slot = 0; slot < outside; slot++) {
      prices[slot] = Math.max(0, prices[slot]! + step * (taken[slot]! - capacity[slot]!));
    }
  }
  return bound;
}
