import type { CompiledRule } from '@/lib/bulletins/condition';
import { tableOf, truthOfAll } from '@/lib/bulletins/judge-fleet';
import type { UnitColumns } from '@/lib/bulletins/unit-columns';
import { isBuildFact } from '@/lib/bulletins/unit-facts';

/** Splits every class by a truth of each unit; answers how many classes there are then. */
function refine(classes: Int32Array, count: number, truthOfUnit: (unit: number) => number): number {
  const renamed = new Int32Array(count * 3).fill(-1);
  let next = 0;
  for (let unit = 0; unit < classes.length; unit++) {
    const key = (classes[unit] ?? 0) * 3 + truthOfUnit(unit);
    if (renamed[key] === -1) renamed[key] = next++;
    classes[unit] = renamed[key] ?? 0;
  }
  return next;
}

/**
 * Class of each unit: equal only for equal make and model and equal answers to the build conditions
 * of every range of every bulletin.
 *
 * Method: partition refinement, exact: no class ever mixes two answers.
 */
export function buildClasses(rules: readonly CompiledRule[], columns: UnitColumns): Int32Array {
  const makes = columns.columnOf('make');
  const models = columns.columnOf('model');
  const classes = Int32Array.from(
    makes.codes,
    (make, unit) => make * models.distinct.length + (models.codes[unit] ?? 0),
  );
  let count = makes.distinct.length * models.distinct.length;
  const seen = new Set<string>();
  for (const range of rules.flat()) {
    const build = range.filter(({ fact }) => isBuildFact(fact));
    const signature = build.map(({ fact, whenTrue }) => `${fact} ${whenTrue}`).join('; ');
    if (build.length === 0 || seen.has(signature)) continue;
    seen.add(signature);
    const tables = build.map((condition) => tableOf(condition, columns));
    count = refine(classes, count, (unit) => truthOfAll(tables, unit));
  }
  return classes;
}
