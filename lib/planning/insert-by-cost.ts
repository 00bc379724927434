import { costToPut, emptyBoard, lift, put } from '@/lib/planning/plan-board';
import type { PlanGrid } from '@/lib/planning/plan-grid';

/**
 * Greedy insertion by regret: of all jobs not yet placed, the one that loses most an hour if it is
 * left out takes the column that adds least to the cost, so jobs of one unit tend to share a visit.
 */
export function insertByCost(grid: PlanGrid): Int32Array {
  const board = emptyBoard(grid);
  const loss = grid.choices.map((choices, job) => {
    const row = job * grid.width;
    let best = Number.POSITIVE_INFINITY;
    for (const slot of choices) best = Math.min(best, grid.cost[row + slot]!);
    return (grid.cost[row + grid.outside]! - best) / Math.max(1, grid.minutes[job]!);
  });
  const order = loss.map((_, job) => job).filter((job) => grid.choices[job]!.length > 1);
  order.sort((a, b) => loss[b]! - loss[a]! || a - b);
  for (const job of order) {
    lift(grid, board, job);
    let chosen = grid.outside;
    let least = Number.POSITIVE_INFINITY;
    for (const slot of grid.choices[job]!) {
      const added = costToPut(grid, board, job, slot);
      if (added < least) {
        least = added;
        chosen = slot;
      }
    }
    put(grid, board, job, chosen);
  }
  return board.slotOf;
}
