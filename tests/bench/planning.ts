import { highsSolver } from '@/app/_planner/highs-solver';
import { annealPlan, defaultCooling } from '@/lib/planning/anneal-plan';
import { capacityBound } from '@/lib/planning/capacity-bound';
import { earliestDueFirst } from '@/lib/planning/earliest-due-first';
import { insertByCost } from '@/lib/planning/insert-by-cost';
import { costOfPlan } from '@/lib/planning/plan-board';
import { planGrid } from '@/lib/planning/plan-grid';
import { solvePlan } from '@/lib/planning/plan-model';
import { proposePlan } from '@/lib/planning/propose-plan';
import { planCase } from '@/tests/support/plan-case';

interface Timed<Value> {
  readonly value: Value;
  readonly milliseconds: number;
}

function timed<Value>(run: () => Value): Timed<Value> {
  const begun = performance.now();
  const value = run();
  return { value, milliseconds: performance.now() - begun };
}

/**
 * Plans of 500 jobs over 26 weeks, side by side: cost over the bound and time. With `solverSeconds`
 * the bound is the better of ours and HiGHS's after that time (90 s is the figure to quote).
 */
export async function benchPlanning(solverSeconds = 0): Promise<void> {
  const solver = solverSeconds > 0 ? await highsSolver() : null;
  for (const { sheds, tightness, wantedFrom } of [
    { sheds: 1, tightness: 0.85, wantedFrom: -10 },
    { sheds: 3, tightness: 0.7, wantedFrom: -10 },
    { sheds: 3, tightness: 0.9, wantedFrom: -10 },
    { sheds: 3, tightness: 1.05, wantedFrom: -10 },
    { sheds: 3, tightness: 1, wantedFrom: 4 },
  ]) {
    const input = planCase({ seed: 5, jobs: 500, weeks: 26, sheds, tightness, wantedFrom });
    const grid = planGrid(input);
    const simple = timed(() => earliestDueFirst(grid));
    const inserted = timed(() => insertByCost(grid));
    const fast = timed(() => annealPlan(grid, inserted.value, { ...defaultCooling, moves: 2e6 }));
    const proposed = timed(() => proposePlan(input));
    const own = timed(() => capacityBound(grid, proposed.value.cost, 1500));
    const solved = solver && timed(() => solvePlan(grid, solver, solverSeconds));
    const bound = Math.max(own.value.cost, solved?.value.bound ?? 0);
    const row = (name: string, cost: number, milliseconds: number): string =>
      `  ${name.padEnd(26)}${`${(100 * (cost / bound - 1)).toFixed(2)}%`.padStart(9)}${`${milliseconds.toFixed(0)} ms`.padStart(11)}`;
    console.log(
      `${sheds} shed(s), hours open ${tightness} of hours wanted, first wanted in week ${wantedFrom}: bound ${bound.toFixed(1)}`,
    );
    console.log(row('earliest due first', costOfPlan(grid, simple.value), simple.milliseconds));
    console.log(
      row('cost-aware insertion', costOfPlan(grid, inserted.value), inserted.milliseconds),
    );
    console.log(row('annealing, 2M moves', costOfPlan(grid, fast.value), fast.milliseconds));
    console.log(row('whole proposal', proposed.value.cost, proposed.milliseconds));
    console.log(row('bound with the proposal', proposed.value.bound, 0));
    if (solved?.value.slotOf) {
      console.log(
        row('HiGHS, same bound', costOfPlan(grid, solved.value.slotOf), solved.milliseconds),
      );
    }
  }
}
