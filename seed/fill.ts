import { getTableColumns, getTableName, sql } from 'drizzle-orm';
import type { PgTable } from 'drizzle-orm/pg-core';
import type { Db, Tx } from '@/db/client';

const rowsAtATime = 5_000;
const snakeCase = (name: string): string =>
  name.replaceAll(/[A-Z]/g, (capital) => `_${capital.toLowerCase()}`);

/**
 * Inserts many rows as one document a statement: a statement with a parameter for every value takes
 * ten times as long. Columns that no row fills keep their defaults.
 */
export async function insertAll<Table extends PgTable>(
  db: Db | Tx,
  table: Table,
  rows: readonly Table['$inferInsert'][],
): Promise<void> {
  const filled = new Set(rows.flatMap((row) => Object.keys(row)));
  const names = Object.keys(getTableColumns(table)).filter((name) => filled.has(name));
  const columns = sql.raw(names.map((name) => `"${snakeCase(name)}"`).join(', '));
  const name = sql.raw(`"${getTableName(table)}"`);
  for (let from = 0; from < rows.length; from += rowsAtATime) {
    const document = JSON.stringify(
      rows
        .slice(from, from + rowsAtATime)
        .map((row) =>
          Object.fromEntries(names.map((key) => [snakeCase(key), row[key as keyof typeof row]])),
        ),
    );
    await db.execute(
      sql`insert into ${name} (${columns}) select ${columns} from json_populate_recordset(null::${name}, ${document}::json)`,
    );
  }
}

/** Lets the planner know the sizes at once. */
export const analyse = (db: Db) => db.execute(sql`analyze`);
