import { desc, type SQL, sql } from 'drizzle-orm';
import type { Condition } from '@/lib/bulletins/condition';
import type { FactName } from '@/lib/bulletins/unit-facts';
import { amendment, reading, unit } from '../schema';
import { failedBy } from './failed-by';

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
  const failed = conditions.flatMap((condition) => failedBy(condition, columnOf[condition.fact]));
  if (failed.length === 0) return sql`false`;
  return sql`coalesce((select (${sql.join(failed, sql` or `)}) and not exists (
      select 1 from ${amendment}
      where ${amendment.readingId} = ${reading.id} and ${amendment.state} = 'approved')
    from ${reading} where ${reading.unitId} = ${unit.id}
    order by ${desc(reading.readOn)}, ${desc(reading.entry)} limit 1), false)`;
}
