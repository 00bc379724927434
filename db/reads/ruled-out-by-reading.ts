import { desc, type SQL, sql } from 'drizzle-orm';
import type { Condition } from '@/lib/bulletins/condition';
import type { FactValue } from '@/lib/bulletins/possible';
import type { FactName } from '@/lib/bulletins/unit-facts';
import { amendment, reading, unit } from '../schema';

const columnOf = {
  line: reading.line,
  recovery: reading.recoveryS,
  'idle vacuum': reading.idleVacuumKpa,
  lowest: reading.lowestKpa,
  odometer: reading.odometerKm,
} as const;
type MeasuredFact = keyof typeof columnOf;

export interface MeasuredCondition extends Condition {
  readonly fact: MeasuredFact;
}

const isMeasured = (fact: FactName): fact is MeasuredFact => fact in columnOf;
export const isOfReading = (condition: Condition): condition is MeasuredCondition =>
  isMeasured(condition.fact);

/**
 * A condition on `unit`, never null: what its newest reading measured meets none of these conditions
 * but some fail. A reading amended since rules nothing out, since its own values no longer count.
 */
export function ruledOutByReading(conditions: readonly MeasuredCondition[]): SQL {
  const failed = conditions.flatMap(failedBy);
  if (failed.length === 0) return sql`false`;
  return sql`coalesce((select (${sql.join(failed, sql` or `)}) and not exists (
      select 1 from ${amendment}
      where ${amendment.readingId} = ${reading.id} and ${amendment.state} = 'approved')
    from ${reading} where ${reading.unitId} = ${unit.id}
    order by ${desc(reading.readOn)}, ${desc(reading.entry)} limit 1), false)`;
}

/** Each value, or stretch of values, at which a condition does not hold, as SQL on its column. */
function failedBy({ fact, turns, holds }: MeasuredCondition): SQL[] {
  const column = columnOf[fact];
  const numbers = turns.filter((turn) => typeof turn === 'number').sort((a, b) => a - b);
  const fails = (value: FactValue) => !holds(value);
  const points = turns.filter(fails).map((turn) => sql`${column} = ${turn}`);
  const ends = [Number.NEGATIVE_INFINITY, ...numbers, Number.POSITIVE_INFINITY];
  const stretches = ends.slice(1).flatMap((to, index) => {
    const from = ends[index] ?? to;
    return numbers.length > 0 && fails(between(from, to))
      ? [sql`(${column} > ${from} and ${column} < ${to})`]
      : [];
  });
  return [...points, ...stretches];
}

/** Some value of an open stretch. */
function between(from: number, to: number): number {
  if (!Number.isFinite(from)) return to - 1;
  return Number.isFinite(to) ? (from + to) / 2 : from + 1;
}
