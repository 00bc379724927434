import type { PlanBoard } from '@/lib/planning/plan-board';
import type { PlanGrid } from '@/lib/planning/plan-grid';

/** Moves of a plan. Each gives the change of cost if it is taken; 0 if it is refused or does not fit. */
export interface PlanMoves {
  /** Sends a job, or all that its unit has in the same column, to another column. */
  move(job: number, to: number, wholeVisit: boolean): number;
  /** Exchanges two units' jobs, or all that each has in the job's column. */
  exchange(a: number, b: number, wholeVisits: boolean): number;
}

/** The moves of annealing on a board, each taken only where `accepts` takes its change of cost. */
export function planMoves(
  grid: PlanGrid,
  board: PlanBoard,
  accepts: (delta: number) => boolean,
): PlanMoves {
  const { width, outside, minutes, capacity, unitOf, jobsOfUnit, cost } = grid;
  const { setUpMinutes, visitCost } = grid;
  const { slotOf, load, jobsAt } = board;
  // What the last call of `weigh` found: jobs, their minutes, and what their own cost changes by.
  let count = 0;
  let work = 0;
  let change = 0;

  const weigh = (job: number, to: number, wholeVisit: boolean): void => {
    const from = slotOf[job]!;
    count = 1;
    work = minutes[job]!;
    change = cost[job * width + to]! - cost[job * width + from]!;
    if (!wholeVisit) return;
    const jobs = jobsOfUnit[unitOf[job]!]!;
    for (let at = 0; at < jobs.length; at++) {
      const other = jobs[at]!;
      if (other === job || slotOf[other] !== from) continue;
      count++;
      work += minutes[other]!;
      change += cost[other * width + to]! - cost[other * width + from]!;
    }
  };

  const carry = (job: number, to: number, wholeVisit: boolean): void => {
    const from = slotOf[job]!;
    if (!wholeVisit) {
      slotOf[job] = to;
      return;
    }
    for (const other of jobsOfUnit[unitOf[job]!]!) if (slotOf[other] === from) slotOf[other] = to;
  };

  const move = (job: number, to: number, wholeVisit: boolean): number => {
    const from = slotOf[job]!;
    if (from === to) return 0;
    weigh(job, to, wholeVisit);
    const row = unitOf[job]! * width;
    let delta = change;
    let arriving = 0;
    let leaving = 0;
    if (to !== outside) {
      const opens = jobsAt[row + to] === 0;
      arriving = work + (opens ? setUpMinutes : 0);
      if (load[to]! + arriving > capacity[to]!) return 0;
      if (opens) delta += visitCost;
    }
    if (from !== outside) {
      const closes = jobsAt[row + from] === count;
      leaving = work + (closes ? setUpMinutes : 0);
      if (closes) delta -= visitCost;
    }
    if (!accepts(delta)) return 0;
    carry(job, to, wholeVisit);
    if (to !== outside) {
      load[to]! += arriving;
      jobsAt[row + to]! += count;
    }
    if (from !== outside) {
      load[from]! -= leaving;
      jobsAt[row + from]! -= count;
    }
    return delta;
  };

  const exchange = (a: number, b: number, wholeVisits: boolean): number => {
    const slotA = slotOf[a]!;
    const slotB = slotOf[b]!;
    if (slotA === slotB || unitOf[a] === unitOf[b]) return 0;
    const rowA = unitOf[a]! * width;
    const rowB = unitOf[b]! * width;
    weigh(a, slotB, wholeVisits);
    const countA = count;
    const workA = work;
    let delta = change;
    weigh(b, slotA, wholeVisits);
    const countB = count;
    const workB = work;
    delta += change;
    if (delta === Number.POSITIVE_INFINITY) return 0;
    let growthA = 0;
    let growthB = 0;
    if (slotA !== outside) {
      const visits = Number(jobsAt[rowB + slotA] === 0) - Number(jobsAt[rowA + slotA] === countA);
      growthA = workB - workA + visits * setUpMinutes;
      if (load[slotA]! + growthA > capacity[slotA]!) return 0;
      delta += visits * visitCost;
    }
    if (slotB !== outside) {
      const visits = Number(jobsAt[rowA + slotB] === 0) - Number(jobsAt[rowB + slotB] === countB);
      growthB = workA - workB + visits * setUpMinutes;
      if (load[slotB]! + growthB > capacity[slotB]!) return 0;
      delta += visits * visitCost;
    }
    if (!accepts(delta)) return 0;
    carry(a, slotB, wholeVisits);
    carry(b, slotA, wholeVisits);
    if (slotA !== outside) {
      load[slotA]! += growthA;
      jobsAt[rowA + slotA]! -= countA;
      jobsAt[rowB + slotA]! += countB;
    }
    if (slotB !== outside) {
      load[slotB]! += growthB;
      jobsAt[rowB + slotB]! -= countB;
      jobsAt[rowA + slotB]! += countA;
    }
    return delta;
  };

  return { move, exchange };
}
