import type { MarkChange } from '@/db/reads/marks-under-limits';

/** Units whose marks would change in the same way for the same reason. */
export interface AlikeChanges extends Omit<MarkChange, 'unitId'> {
  readonly units: number;
  /** The first of them. */
  readonly first: readonly string[];
}

const mostNamed = 60;

/** A page has no use for the names of the fifty thousand units that a bulletin may change. */
export function alikeChanges(changes: readonly MarkChange[]): readonly AlikeChanges[] {
  const groups = new Map<
    string,
    Omit<AlikeChanges, 'units'> & { units: number; first: string[] }
  >();
  for (const { unitId, ...change } of changes) {
    const key = `${change.from} ${change.to} ${change.why}`;
    const group = groups.get(key) ?? { ...change, units: 0, first: [] };
    groups.set(key, group);
    group.units++;
    if (group.first.length < mostNamed) group.first.push(unitId);
  }
  return [...groups.values()];
}
