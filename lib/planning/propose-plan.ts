import { annealPlan, type Cooling, defaultCooling } from '@/lib/planning/anneal-plan';
import { capacityBound } from '@/lib/planning/capacity-bound';
import { checkPlan, type SlotLoad } from '@/lib/planning/check-plan';
import { earliestDueFirst } from '@/lib/planning/earliest-due-first';
import { explainNotPlaced, type NotPlaced } from '@/lib/planning/explain-not-placed';
import { insertByCost } from '@/lib/planning/insert-by-cost';
import type { Placement, PlanInput, Visit } from '@/lib/planning/plan';
import { costOfPlan, fitsHours } from '@/lib/planning/plan-board';
import { type PlanGrid, placementOf, planGrid } from '@/lib/planning/plan-grid';
import { type PlanSolver, type SolvedPlan, solveIfSmall } from '@/lib/planning/plan-model';
import { settlePlan } from '@/lib/planning/settle-plan';
import { visitsOf } from '@/lib/planning/visits-of';

/** What a plan costs beside the simple one and beside the least that any plan can cost, in bay hours. */
export interface PlanWeight {
  readonly cost: number;
  /** What the first-wanted, first-placed plan costs. */
  readonly earliestDueFirstCost: number;
  /** No plan that keeps to the hours costs less. */
  readonly bound: number;
  /** cost / bound − 1; null where the bound is nothing. */
  readonly gap: number | null;
}

/** Its cost is never more than `earliestDueFirstCost`. */
export interface PlanProposal extends PlanWeight {
  readonly placement: Placement;
  readonly visits: readonly Visit[];
  /** Every shed and week, added up again from the jobs. Overfull only where pins alone do it. */
  readonly loads: readonly SlotLoad[];
  readonly notPlaced: readonly NotPlaced[];
}

export interface ProposeOptions extends Partial<Cooling> {
  /** Solves small plans to the optimum, or bounds them better. */
  readonly solver?: PlanSolver;
}

/**
 * Proposes a week for every job that has none pinned: the solver's optimum where there is one, else
 * annealing from a cost-aware insertion; settled, and kept only if it beats both simpler plans.
 * Without a solver the same input and cooling give the same proposal. No jobs, no sheds or no weeks
 * give an empty proposal or one with every job not placed.
 */
export function proposePlan(
  input: PlanInput,
  { solver, ...cooling }: ProposeOptions = {},
): PlanProposal {
  const grid = planGrid(input);
  const simple = earliestDueFirst(grid);
  const inserted = insertByCost(grid);
  const solved = solver ? solveIfSmall(grid, solver) : null;
  const optimum = solved?.isOptimal && solved.slotOf && fitsHours(grid, solved.slotOf);
  const thorough = optimum
    ? solved.slotOf
    : annealPlan(grid, inserted, { ...defaultCooling, ...cooling });
  const costed = [simple, inserted, thorough]
    .map((slotOf) => settlePlan(grid, slotOf))
    .map((slotOf) => ({ slotOf, cost: costOfPlan(grid, slotOf) }));
  const best = costed.reduce((least, plan) => (plan.cost < least.cost ? plan : least));
  const placement = placementOf(grid, best.slotOf);
  return {
    placement,
    visits: visitsOf(input, placement),
    loads: checkPlan(input, placement).loads,
    notPlaced: explainNotPlaced(input, placement),
    ...weightOf(best.cost, costOfPlan(grid, simple), leastCost(grid, best.cost, solved)),
  };
}

/** The better of both bounds, never above `target`, what some plan costs. */
export function leastCost(grid: PlanGrid, target: number, solved: SolvedPlan | null): number {
  const bound = solved?.isOptimal
    ? solved.bound
    : Math.max(capacityBound(grid, target).cost, solved?.bound ?? Number.NEGATIVE_INFINITY);
  return Math.min(target, bound);
}

export const weightOf = (
  cost: number,
  earliestDueFirstCost: number,
  bound: number,
): PlanWeight => ({
  cost,
  earliestDueFirstCost,
  bound,
  gap: bound > 0 ? cost / bound - 1 : null,
});
