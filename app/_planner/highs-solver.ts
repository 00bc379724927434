import loadHighs from 'highs';
import type { PlanSolver } from '@/lib/planning/plan-model';

/** HiGHS, compiled to WebAssembly, as the plan's solver: an implementation that shares no code with ours. */
export async function highsSolver(): Promise<PlanSolver> {
  const highs = await loadHighs();
  return (model, secondsAtMost) =>
    highs.withModel({ format: 'lp', data: model }, (solver) => {
      solver.options.set({ output_flag: false, time_limit: secondsAtMost, mip_rel_gap: 0 });
      solver.run();
      const isOptimal = solver.getModelStatus() === highs.constants.modelStatus.optimal;
      const bound = Number(solver.info.get('mip_dual_bound'));
      const hasPlan = Number(solver.info.get('primal_solution_status')) === 2;
      if (!hasPlan) return { isOptimal: false, cost: null, bound, values: new Map() };
      const { colValue } = solver.getSolution();
      const values = new Map(
        Array.from(colValue, (value, column) => [solver.getColName(column), value] as const),
      );
      return { isOptimal, cost: solver.getObjectiveValue(), bound, values };
    });
}
