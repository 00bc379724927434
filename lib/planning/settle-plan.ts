import { boardOf, costToPut, lift, put } from '@/lib/planning/plan-board';
import type { PlanGrid } from '@/lib/planning/plan-grid';

/** Moves single jobs while that lowers the cost, so no job is left out that still has room worth taking. */
export function settlePlan(grid: PlanGrid, start: Int32Array): Int32Array {
  const board = boardOf(grid, start);
  let isSettled = false;
  while (!isSettled) {
    isSettled = true;
    grid.choices.forEach((choices, job) => {
      if (choices.length === 1) return;
      const from = board.slotOf[job]!;
      lift(grid, board, job);
      let chosen = from;
      let least = costToPut(grid, board, job, from) - 1e-9;
      for (const slot of choices) {
        const added = costToPut(grid, board, job, slot);
        if (added < least) {
          least = added;
          chosen = slot;
        }
      }
      put(grid, board, job, chosen);
      if (chosen !== from) isSettled = false;
    });
  }
  return board.slotOf;
}
