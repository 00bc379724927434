import { costToPut, emptyBoard, lift, put } from '@/lib/planning/plan-board';
import type { PlanGrid } from '@/lib/planning/plan-grid';

/** Jobs by the date wanted, those without one last; ties in the order given. */
export function jobsByDateWanted(grid: PlanGrid): number[] {
  const wanted = grid.input.jobs.map(({ wantedBy }) => wantedBy ?? Number.POSITIVE_INFINITY);
  return wanted
    .map((_, job) => job)
    .sort((a, b) => (wanted[a]! === wanted[b]! ? a - b : wanted[a]! < wanted[b]! ? -1 : 1));
}

/**
 * The plan a wall chart gives: whatever is wanted first takes the first week with room for it,
 * joined with nothing on purpose. The least that a proposal has to beat.
 */
export function earliestDueFirst(grid: PlanGrid): Int32Array {
  const board = emptyBoard(grid);
  for (const job of jobsByDateWanted(grid)) {
    const choices = grid.choices[job]!;
    if (choices.length === 1) continue;
    lift(grid, board, job);
    const weekOf = (slot: number): number => slot % grid.weeks.length;
    let chosen = grid.outside;
    for (const slot of choices) {
      const isEarlier = chosen === grid.outside || weekOf(slot) < weekOf(chosen);
      if (
        slot !== grid.outside &&
        isEarlier &&
        costToPut(grid, board, job, slot) < Number.POSITIVE_INFINITY
      ) {
        chosen = slot;
      }
    }
    put(grid, board, job, chosen);
  }
  return board.slotOf;
}
