import { getTableColumns, sql } from 'drizzle-orm';
import type { PgTable } from 'drizzle-orm/pg-core';
import type { Db, Tx } from '@/db/client';

/** Rows a statement takes: PostgreSQL allows 65,535 parameters. */
const parametersAllowed = 60_000;

/** Inserts many rows in as few statements as the protocol allows. */
export async function insertAll<Table extends PgTable>(
  db: Db | Tx,
  table: Table,
  rows: readonly Table['$inferInsert'][],
): Promise<void> {
  const size = Math.floor(parametersAllowed / Object.keys(getTableColumns(table)).length);
  for (let from = 0; from < rows.length; from += size) {
    await db.insert(table).values(rows.slice(from, from + size) as never);
  }
}

/** Lets the planner know the sizes at once. */
export const analyse = (db: Db) => db.execute(sql`analyze`);
