import { earliestDueFirst } from '@/lib/planning/earliest-due-first';
import { insertByCost } from '@/lib/planning/insert-by-cost';
import type { Placement, PlanInput } from '@/lib/planning/plan';
import { costOfPlan } from '@/lib/planning/plan-board';
import { costOfWeek, planGrid } from '@/lib/planning/plan-grid';
import { type PlanSolver, solveIfSmall } from '@/lib/planning/plan-model';
import { leastCost, type PlanWeight, weightOf } from '@/lib/planning/propose-plan';
import { settlePlan } from '@/lib/planning/settle-plan';
import { visitsOf } from '@/lib/planning/visits-of';
import { weekRange } from '@/lib/planning/week-range';

/** What a placement costs in bay hours, whether or not it keeps to the hours. */
export function costOfPlacement(input: PlanInput, placement: Placement): number {
  const weeks = [...weekRange(input).keys()];
  const jobs = input.jobs.reduce((sum, job) => {
    const week = weeks.indexOf(placement.get(job.id)?.week ?? '');
    return week === -1
      ? sum + costOfWeek(input, job, weeks.length) + input.costs.notPlaced
      : sum + costOfWeek(input, job, week);
  }, 0);
  const visits = visitsOf(input, placement).filter(({ slot }) => weeks.includes(slot.week));
  return jobs + visits.length * input.costs.visit;
}

/**
 * The plan as it stands beside earliest due first and beside the bound. Work placed over the hours,
 * or before its parts are there, can cost less than the bound: then the gap is below nothing.
 */
export function weighPlan(
  input: PlanInput,
  placement: Placement,
  solver: PlanSolver | null = null,
): PlanWeight {
  const grid = planGrid(input);
  const cost = costOfPlacement(input, placement);
  const simple = costOfPlan(grid, earliestDueFirst(grid));
  const inserted = costOfPlan(grid, settlePlan(grid, insertByCost(grid)));
  const solved = solver ? solveIfSmall(grid, solver) : null;
  return weightOf(cost, simple, leastCost(grid, Math.min(simple, inserted), solved));
}
