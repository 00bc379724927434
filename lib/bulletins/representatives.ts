import type { Condition } from '@/lib/bulletins/condition';
import type { FactValue, Possible } from '@/lib/bulletins/possible';
import type { FactName } from '@/lib/bulletins/unit-facts';

const measured: ReadonlySet<FactName> = new Set(['odometer', 'recovery', 'idle vacuum', 'lowest']);
const someOtherName = '\u0000';

/** One value of each stretch that the turns cut out of a line of numbers, ends included. */
function stretches(turns: readonly number[], fact: FactName, from: number, to: number): number[] {
  const marks = [...turns, from, to].filter(Number.isFinite);
  const candidates = marks.flatMap((mark) => [mark, mark - 1, mark + 1]);
  if (measured.has(fact)) {
    const sorted = marks.sort((one, other) => one - other);
    for (const [index, mark] of sorted.slice(1).entries()) {
      candidates.push((mark + (sorted[index] ?? mark)) / 2);
    }
  }
  return candidates.filter((value) => value >= from && value <= to);
}

/**
 * Values that stand for all that the fact may be: any value left out gives every condition the same
 * answer as one of these. Days, weeks, years and sequence numbers are whole; measurements are not,
 * and are never negative.
 */
export function representatives(
  possible: Possible,
  fact: FactName,
  conditions: readonly Condition[],
): readonly FactValue[] {
  if (possible.is === 'known') return [possible.value];
  if (possible.is === 'one of') return possible.values;
  const turns = [...new Set(conditions.flatMap((condition) => condition.turns))];
  const numbers = turns.filter((turn) => typeof turn === 'number');
  if (possible.is === 'within') return stretches(numbers, fact, possible.from, possible.to);
  if (fact === 'line') return turns;
  if (turns.length > numbers.length) return [...turns, someOtherName];
  const least = fact === 'build date' ? Number.NEGATIVE_INFINITY : 0;
  return stretches(numbers, fact, least, Number.POSITIVE_INFINITY);
}

export type Truth = 'yes' | 'no' | 'unknown';

/** Whether a condition holds, does not, or depends on what is not known. */
export function truthOf(condition: Condition, possible: Possible): Truth {
  if (possible.is === 'known') return condition.holds(possible.value) ? 'yes' : 'no';
  const values = representatives(possible, condition.fact, [condition]);
  const isEverTrue = values.some(condition.holds);
  if (isEverTrue && !values.every(condition.holds)) return 'unknown';
  return isEverTrue ? 'yes' : 'no';
}
