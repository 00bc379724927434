import type { OwnerConnection } from '../owner-connection';
import { tablesLeftOut } from './backup-format';

/** Tables of the schema that a backup holds, by name. */
export async function tablesOnRecord(connection: OwnerConnection): Promise<readonly string[]> {
  const rows = await connection.query<{ name: string }>(
    `select c.relname as name from pg_class c
     where c.relnamespace = 'public'::regnamespace and c.relkind in ('r', 'p')
     order by c.relname collate "C"`,
  );
  return rows.map(({ name }) => name).filter((name) => !tablesLeftOut.has(name));
}

/** How many migrations are applied: 0 for a database that the product never opened. */
export async function migrationsApplied(connection: OwnerConnection): Promise<number> {
  const [table] = await connection.query<{ isThere: boolean }>(
    `select to_regclass('drizzle.__drizzle_migrations') is not null as "isThere"`,
  );
  if (!table?.isThere) return 0;
  const [row] = await connection.query<{ applied: number }>(
    'select count(*)::int as applied from drizzle.__drizzle_migrations',
  );
  return row?.applied ?? 0;
}
