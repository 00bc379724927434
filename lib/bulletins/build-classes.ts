import type { Condition } from '@/lib/bulletins/condition';
import { truthOfAll } from '@/lib/bulletins/judge-fleet';
import type { UnitColumns } from '@/lib/bulletins/unit-columns';
import { isBuildFact } from '@/lib/bulletins/unit-facts';

/** Splits every class by a truth of each member; answers how many classes there are then. */
function refine(classes: Int32Array, count: number, truthOfMember: (member: number) => number) {
  const renamed = new Int32Array(count * 3).fill(-1);
  let next = 0;
  for (let member = 0; member < classes.length; member++) {
    const key = (classes[member] ?? 0) * 3 + truthOfMember(member);
    if (renamed[key] === -1) renamed[key] = next++;
    classes[member] = renamed[key] ?? 0;
  }
  return next;
}

/**
 * Class of each of the units: the same only for the same answers to the build conditions of every
 * range.
 *
 * Method: partition refinement, exact: no class ever mixes two answers.
 */
export function buildClasses(
  ranges: readonly (readonly Condition[])[],
  columns: UnitColumns,
  units: readonly number[],
): Int32Array {
  const classes = new Int32Array(units.length);
  let count = 1;
  for (const range of ranges) {
    const tables = range.filter(({ fact }) => isBuildFact(fact)).map(columns.tableOf);
    if (tables.length === 0) continue;
    count = refine(classes, count, (member) => truthOfAll(tables, units[member] ?? 0));
  }
  return classes;
}
