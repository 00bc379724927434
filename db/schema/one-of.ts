import { type AnyColumn, type SQL, sql } from 'drizzle-orm';

/** `column in ('a', 'b')` for a CHECK; null passes, as CHECK has it. */
export const oneOf = (column: AnyColumn, values: readonly string[]): SQL =>
  sql`${column} in (${sql.raw(values.map((value) => `'${value.replaceAll("'", "''")}'`).join(', '))})`;
