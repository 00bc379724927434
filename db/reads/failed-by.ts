import { type SQL, sql } from 'drizzle-orm';
import type { AnyPgColumn } from 'drizzle-orm/pg-core';
import type { Condition } from '@/lib/bulletins/condition';
import type { FactValue } from '@/lib/bulletins/possible';

/** Each value, or stretch of values, at which a condition does not hold, as SQL on what holds the fact. */
export function failedBy({ turns, holds }: Condition, column: SQL | AnyPgColumn): SQL[] {
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
