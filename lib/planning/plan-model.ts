import type { PlanGrid } from '@/lib/planning/plan-grid';

/** What a mixed-integer solver says about a model written in the CPLEX LP format. */
export interface SolverAnswer {
  readonly isOptimal: boolean;
  /** Cost of the best plan that it found; null when it found none. */
  readonly cost: number | null;
  /** No plan costs less. */
  readonly bound: number;
  /** Value of each variable of the best plan, by name. */
  readonly values: ReadonlyMap<string, number>;
}

export type PlanSolver = (model: string, secondsAtMost: number) => SolverAnswer;

export interface SolvedPlan {
  readonly isOptimal: boolean;
  readonly bound: number;
  /** Column of each job; null when the solver ran out of time before it had a plan. */
  readonly slotOf: Int32Array | null;
}

const chosen = (job: number, slot: number): string => `x${job}_${slot}`;
const visited = (unit: number, slot: number): string => `v${unit}_${slot}`;

/**
 * The plan as a mixed-integer program, CPLEX LP format: minimise Σ c x + V Σ v with one column for
 * each job, x ≤ v for its unit's visit, and Σ h x + S Σ v ≤ H in each slot. Minutes stand for hours.
 */
export function planModel(grid: PlanGrid): string {
  const { choices, outside, width, cost, minutes, unitOf, capacity, setUpMinutes, visitCost } =
    grid;
  const objective: string[] = [];
  const once: string[] = [];
  const joined: string[] = [];
  const taken: string[][] = Array.from({ length: outside }, () => []);
  const binaries: string[] = [];
  const visits = new Set<string>();
  choices.forEach((open, job) => {
    once.push(` one${job}: ${Array.from(open, (slot) => chosen(job, slot)).join('\n + ')} = 1`);
    for (const slot of open) {
      const x = chosen(job, slot);
      binaries.push(x);
      objective.push(`${cost[job * width + slot]!} ${x}`);
      if (slot === outside) continue;
      const v = visited(unitOf[job]!, slot);
      taken[slot]!.push(`${minutes[job]!} ${x}`);
      joined.push(` join${job}_${slot}: ${x} - ${v} <= 0`);
      if (visits.has(v)) continue;
      visits.add(v);
      objective.push(`${visitCost} ${v}`);
      taken[slot]!.push(`${setUpMinutes} ${v}`);
    }
  });
  const hours = taken.flatMap((terms, slot) =>
    terms.length === 0 ? [] : [` open${slot}: ${terms.join('\n + ')} <= ${capacity[slot]!}`],
  );
  return [
    'Minimize',
    ` cost: ${objective.length === 0 ? '0 nothing' : objective.join('\n + ')}`,
    'Subject To',
    ...(once.length === 0 ? [' none: nothing = 0'] : once),
    ...joined,
    ...hours,
    'Binary',
    ...[...binaries, ...visits].map((name) => ` ${name}`),
    'End',
    '',
  ].join('\n');
}

/** The plan that a solver finds, and its bound; small plans are solved to the optimum. */
export function solvePlan(grid: PlanGrid, solver: PlanSolver, secondsAtMost: number): SolvedPlan {
  const answer = solver(planModel(grid), secondsAtMost);
  const { isOptimal, bound } = answer;
  if (answer.cost === null) return { isOptimal, bound, slotOf: null };
  const slotOf = Int32Array.from(
    grid.choices,
    (open, job) =>
      open.find((slot) => (answer.values.get(chosen(job, slot)) ?? 0) > 0.5) ?? grid.outside,
  );
  return { isOptimal, bound, slotOf };
}

/** Choices of week in all: about what HiGHS in WebAssembly closes, or bounds well, in the seconds it gets. */
const smallPlan = 2000;
const secondsForSmall = 1;

/** Null where the plan is too large for the solver to say more in its second than the other bound does. */
export function solveIfSmall(grid: PlanGrid, solver: PlanSolver): SolvedPlan | null {
  const choices = grid.choices.reduce((sum, open) => sum + open.length, 0);
  return choices > smallPlan ? null : solvePlan(grid, solver, secondsForSmall);
}
