import { stretchOf } from '@/lib/bulletins/build-stretches';
import type { UnitColumns } from '@/lib/bulletins/unit-columns';

/** The first to the last of each run of numbers, ascending, that no stretch without one parts. */
function runs(numbers: readonly number[], cuts: readonly number[]): readonly string[] {
  const ends: { first: number; last: number }[] = [];
  for (const next of numbers) {
    const run = ends.at(-1);
    if (run && stretchOf(next, cuts) <= stretchOf(run.last, cuts) + 1) run.last = next;
    else ends.push({ first: next, last: next });
  }
  return ends.map(({ first, last }) => (first === last ? `${first}` : `${first} to ${last}`));
}

/**
 * What the units of a build range have of a fact that the bulletins ask about. Numbers on both sides of
 * a stretch that is another range's are told apart.
 *
 * Example: units before and after a bulletin's serial numbers read `VIN sequence 7 to 98 or 704 to 987`.
 */
export function attributeWords(
  fact: 'model year' | 'engine' | 'plant' | 'VIN sequence',
  cuts: readonly number[],
  columns: UnitColumns,
  units: readonly number[],
): string {
  const { codeOf, possibleOf } = columns.columnOf(fact);
  const firstOf = new Map<number, number>();
  for (const unit of units) if (!firstOf.has(codeOf(unit))) firstOf.set(codeOf(unit), unit);
  const names: string[] = [];
  const numbers: number[] = [];
  let isOpen = false;
  for (const [code, unit] of firstOf) {
    const possible = possibleOf(code);
    if (possible.is !== 'known') isOpen = true;
    else if (typeof possible.value === 'number') numbers.push(possible.value);
    // As it was written, where capitals make no difference to a rule.
    else
      names.push(fact === 'engine' ? (columns.units[unit]?.engine?.trim() ?? '') : possible.value);
  }
  const told = runs(
    numbers.sort((one, other) => one - other),
    cuts,
  );
  const known = [names.sort().join(', '), ...told, isOpen ? 'not known' : ''];
  return `${fact} ${known.filter(Boolean).join(' or ')}`;
}
