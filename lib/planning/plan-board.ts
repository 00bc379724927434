import type { PlanGrid } from '@/lib/planning/plan-grid';

/** A plan while it is being worked on. Cost and loads follow every move exactly. */
export interface PlanBoard {
  readonly slotOf: Int32Array;
  /** Minutes taken in each column. */
  readonly load: Int32Array;
  /** Unit × width: jobs of the unit in the column. */
  readonly jobsAt: Uint16Array;
}

const hasRoom = (grid: PlanGrid, board: PlanBoard, slot: number, minutes: number): boolean =>
  board.load[slot]! + minutes <= grid.capacity[slot]!;

/** Nothing placed but the pins. */
export function emptyBoard(grid: PlanGrid): PlanBoard {
  const jobCount = grid.minutes.length;
  const board: PlanBoard = {
    slotOf: new Int32Array(jobCount).fill(-1),
    load: new Int32Array(grid.width),
    jobsAt: new Uint16Array(grid.unitCount * grid.width),
  };
  for (let job = 0; job < jobCount; job++) {
    const choices = grid.choices[job]!;
    put(grid, board, job, choices.length === 1 ? choices[0]! : grid.outside);
  }
  return board;
}

export function boardOf(grid: PlanGrid, slotOf: Int32Array): PlanBoard {
  const board = emptyBoard(grid);
  slotOf.forEach((slot, job) => {
    if (board.slotOf[job] !== slot) {
      lift(grid, board, job);
      put(grid, board, job, slot);
    }
  });
  return board;
}

export function put(grid: PlanGrid, board: PlanBoard, job: number, slot: number): void {
  board.slotOf[job] = slot;
  if (slot === grid.outside) return;
  const visit = grid.unitOf[job]! * grid.width + slot;
  board.load[slot]! += grid.minutes[job]! + (board.jobsAt[visit] === 0 ? grid.setUpMinutes : 0);
  board.jobsAt[visit]!++;
}

export function lift(grid: PlanGrid, board: PlanBoard, job: number): void {
  const slot = board.slotOf[job]!;
  if (slot === grid.outside) return;
  const visit = grid.unitOf[job]! * grid.width + slot;
  board.jobsAt[visit]!--;
  board.load[slot]! -= grid.minutes[job]! + (board.jobsAt[visit] === 0 ? grid.setUpMinutes : 0);
}

/** What a lifted job adds to the cost in a slot; Infinity where it may not or does not fit. */
export function costToPut(grid: PlanGrid, board: PlanBoard, job: number, slot: number): number {
  const own = grid.cost[job * grid.width + slot]!;
  if (slot === grid.outside) return own;
  const opens = board.jobsAt[grid.unitOf[job]! * grid.width + slot] === 0;
  const minutes = grid.minutes[job]! + (opens ? grid.setUpMinutes : 0);
  if (!hasRoom(grid, board, slot, minutes)) return Number.POSITIVE_INFINITY;
  return own + (opens ? grid.visitCost : 0);
}

/** That no column takes more minutes than are open. */
export const fitsHours = (grid: PlanGrid, slotOf: Int32Array): boolean =>
  boardOf(grid, slotOf).load.every((taken, slot) => taken <= grid.capacity[slot]!);

/** Cost of a whole plan, from scratch. */
export function costOfPlan(grid: PlanGrid, slotOf: Int32Array): number {
  const visits = new Set<number>();
  let total = 0;
  slotOf.forEach((slot, job) => {
    total += grid.cost[job * grid.width + slot]!;
    if (slot !== grid.outside) visits.add(grid.unitOf[job]! * grid.width + slot);
  });
  return total + visits.size * grid.visitCost;
}
