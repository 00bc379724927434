import { beforeAll, describe, expect, it } from 'vitest';
import { highsSolver } from '@/app/_planner/highs-solver';
import { capacityBound } from '@/lib/planning/capacity-bound';
import { checkPlan } from '@/lib/planning/check-plan';
import { costOfPlan } from '@/lib/planning/plan-board';
import { placementOf, planGrid } from '@/lib/planning/plan-grid';
import { type PlanSolver, solvePlan } from '@/lib/planning/plan-model';
import { proposePlan } from '@/lib/planning/propose-plan';
import { costOfPlacement, weighPlan } from '@/lib/planning/weigh-plan';
import { planCase } from '@/tests/support/plan-case';

let solver: PlanSolver;
beforeAll(async () => {
  solver = await highsSolver();
});

describe('small plans solved to the optimum by HiGHS', () => {
  it.each([1, 2, 3, 4, 5, 6])(
    'annealing finds it and the bound stays under it, case %i',
    (seed) => {
      const input = planCase({ seed, jobs: 16, weeks: 4, sheds: 1 + (seed % 2), tightness: 0.75 });
      const grid = planGrid(input);
      const solved = solvePlan(grid, solver, 60);
      expect(solved.isOptimal).toBe(true);
      const optimum = costOfPlan(grid, solved.slotOf!);
      expect(optimum).toBeCloseTo(solved.bound, 4);
      expect(checkPlan(input, placementOf(grid, solved.slotOf!)).breaches).toEqual([]);

      const proposal = proposePlan(input, { moves: 300_000 });
      expect(proposal.cost).toBeGreaterThan(optimum - 1e-4);
      expect(proposal.cost).toBeLessThan(optimum * 1.01);
      expect(capacityBound(grid, optimum).cost).toBeLessThanOrEqual(optimum + 1e-6);
      expect(capacityBound(grid, optimum).cost).toBeGreaterThan(optimum * 0.8);
    },
  );

  it('keeps pins that overfill a week, and adds nothing to it', () => {
    const plain = planCase({ seed: 11, jobs: 12, weeks: 3, sheds: 1, tightness: 0.6 });
    const slot = { shedId: 'shed-0', week: '2026-W03' };
    const input = {
      ...plain,
      jobs: plain.jobs.map((job, at) => ({ ...job, pinned: at < 6 ? slot : null })),
    };
    const grid = planGrid(input);
    const solved = solvePlan(grid, solver, 60);
    const { breaches, loads } = checkPlan(input, placementOf(grid, solved.slotOf!));
    expect(breaches).toEqual([]);
    expect(loads.find((load) => load.slot.week === slot.week)?.isOverfull).toBe(true);
    expect(proposePlan(input, { moves: 100_000 }).cost).toBeCloseTo(solved.bound, 4);
  });

  it('proposes the optimum with its proof, where the other bound proves little', () => {
    const input = planCase({ seed: 5, jobs: 12, weeks: 8, sheds: 2, tightness: 0.8 });
    const alone = proposePlan(input, { moves: 100_000 });
    const proposal = proposePlan(input, { solver, moves: 100_000 });
    expect(proposal.gap).toBeLessThan(1e-6);
    expect(alone.gap).toBeGreaterThan(0.1);
    expect(checkPlan(input, proposal.placement).breaches).toEqual([]);

    expect(costOfPlacement(input, proposal.placement)).toBeCloseTo(proposal.cost, 6);
    const { cost, earliestDueFirstCost, bound, gap } = proposal;
    const weight = weighPlan(input, proposal.placement, solver);
    expect(weight.cost).toBeCloseTo(cost, 6);
    expect(weight.bound).toBeCloseTo(bound, 4);
    expect(weight).toMatchObject({ earliestDueFirstCost, gap: expect.closeTo(gap!, 4) });
  });

  it('has nothing to solve without jobs', () => {
    const grid = planGrid({
      ...planCase({ seed: 1, jobs: 1, weeks: 1, sheds: 1, tightness: 1 }),
      jobs: [],
    });
    expect(solvePlan(grid, solver, 5)).toMatchObject({ isOptimal: true, bound: 0 });
  });
});
