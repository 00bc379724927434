import type { Placement, PlanInput } from '@/lib/planning/plan';
import type { PlanSolver } from '@/lib/planning/plan-model';
import { type PlanProposal, type PlanWeight, proposePlan } from '@/lib/planning/propose-plan';
import { weighPlan } from '@/lib/planning/weigh-plan';

/** What the planner's thread is asked. */
export type PlanTask =
  | { readonly ask: 'propose'; readonly input: PlanInput; readonly moves?: number }
  | { readonly ask: 'weigh'; readonly input: PlanInput; readonly placement: Placement };

export type PlanAnswer<Task extends PlanTask> = Task['ask'] extends 'propose'
  ? PlanProposal
  : PlanWeight;

export const planAnswer = (task: PlanTask, solver: PlanSolver): PlanProposal | PlanWeight =>
  task.ask === 'propose'
    ? proposePlan(task.input, { solver, ...(task.moves !== undefined && { moves: task.moves }) })
    : weighPlan(task.input, task.placement, solver);
