import { annealPlan, type Cooling, defaultCooling } from '@/lib/planning/anneal-plan';
import { capacityBound } from '@/lib/planning/capacity-bound';
import { checkPlan, type SlotLoad } from '@/lib/planning/check-plan';
import { earliestDueFirst } from '@/lib/planning/earliest-due-first';
import { explainNotPlaced, type NotPlaced } from '@/lib/planning/explain-not-placed';
import { insertByCost } from '@/lib/planning/insert-by-cost';
import type { Placement, PlanInput, Visit } from '@/lib/planning/plan';
import { costOfPlan } from '@/lib/planning/plan-board';
import { placementOf, planGrid } from '@/lib/planning/plan-grid';
import { settlePlan } from '@/lib/planning/settle-plan';
import { visitsOf } from '@/lib/planning/visits-of';

export interface PlanProposal {
  readonly placement: Placement;
  readonly visits: readonly Visit[];
  /** Every shed and week, added up again from the jobs. Overfull only where pins alone do it. */
  readonly loads: readonly SlotLoad[];
  readonly notPlaced: readonly NotPlaced[];
  /** In bay hours, as the plan weighs them. */
  readonly cost: number;
  /** What the first-wanted, first-placed plan costs; never less than `cost`. */
  readonly earliestDueFirstCost: number;
  /** No plan costs less. */
  readonly bound: number;
  /** cost / bound − 1; null where the bound is nothing. */
  readonly gap: number | null;
}

/**
 * Proposes a week for every job that has none pinned: annealing from a cost-aware insertion, settled,
 * and kept only if it beats both simpler plans. The same input and cooling give the same proposal.
 * No jobs, no sheds or no weeks give an empty proposal or one with every job not placed.
 */
export function proposePlan(input: PlanInput, cooling: Partial<Cooling> = {}): PlanProposal {
  const grid = planGrid(input);
  const simple = earliestDueFirst(grid);
  const inserted = insertByCost(grid);
  const annealed = annealPlan(grid, inserted, { ...defaultCooling, ...cooling });
  const costed = [simple, inserted, annealed]
    .map((slotOf) => settlePlan(grid, slotOf))
    .map((slotOf) => ({ slotOf, cost: costOfPlan(grid, slotOf) }));
  const best = costed.reduce((least, plan) => (plan.cost < least.cost ? plan : least));
  const placement = placementOf(grid, best.slotOf);
  const bound = Math.min(best.cost, capacityBound(grid, best.cost).cost);
  return {
    placement,
    visits: visitsOf(input, placement),
    loads: checkPlan(input, placement).loads,
    notPlaced: explainNotPlaced(input, placement),
    cost: best.cost,
    earliestDueFirstCost: costOfPlan(grid, simple),
    bound,
    gap: bound > 0 ? best.cost / bound - 1 : null,
  };
}
