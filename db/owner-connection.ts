import { PGlite } from '@electric-sql/pglite';
import { drizzle as drizzlePg } from 'drizzle-orm/node-postgres';
import { migrate as migratePg } from 'drizzle-orm/node-postgres/migrator';
import { drizzle as drizzlePglite } from 'drizzle-orm/pglite';
import { migrate as migratePglite } from 'drizzle-orm/pglite/migrator';
import pg from 'pg';
import type { Db } from './client';
import { holdFolder } from './hold-folder';
import { withFirstMigrations } from './migrations-in-order';
import * as schema from './schema';

/** One connection as the owner of the schema, for backup and restore. It migrates nothing unasked. */
export interface OwnerConnection {
  /** The same connection, typed: what it reads is within a transaction begun by `query`. */
  readonly db: Db;
  query<Row>(text: string, values?: unknown[]): Promise<Row[]>;
  /** Applies the first `count` migrations, less those that are applied already. */
  migrateTo(count: number): Promise<void>;
  close(): Promise<void>;
}

/** Values are written one way whatever the server's settings are. */
const oneWayToWrite = [
  "set timezone = 'UTC'",
  'set datestyle = iso',
  'set extra_float_digits = 1',
  'set bytea_output = hex',
  'set search_path = public',
];

export async function connectAsOwner(at: {
  readonly url?: string;
  readonly folder: string;
}): Promise<OwnerConnection> {
  const connection = at.url ? await connectToServer(at.url) : await openFolder(at.folder);
  for (const statement of oneWayToWrite) await connection.query(statement);
  return connection;
}

async function connectToServer(url: string): Promise<OwnerConnection> {
  const client = new pg.Client({ connectionString: url, connectionTimeoutMillis: 10_000 });
  await client.connect();
  const db = drizzlePg(client, { schema, casing: 'snake_case' });
  return {
    db,
    query: async <Row>(text: string, values?: unknown[]) =>
      (await client.query(text, values)).rows as Row[],
    migrateTo: (count) =>
      withFirstMigrations(count, (migrationsFolder) => migratePg(db, { migrationsFolder })),
    close: () => client.end(),
  };
}

async function openFolder(folder: string): Promise<OwnerConnection> {
  const releaseFolder = folder.startsWith('memory://') ? () => {} : holdFolder(folder);
  try {
    const client = await PGlite.create(folder);
    const db = drizzlePglite(client, { schema, casing: 'snake_case' });
    return {
      db,
      query: async <Row>(text: string, values?: unknown[]) =>
        (await client.query<Row>(text, values)).rows,
      migrateTo: (count) =>
        withFirstMigrations(count, (migrationsFolder) => migratePglite(db, { migrationsFolder })),
      close: async () => {
        await client.close();
        releaseFolder();
      },
    };
  } catch (error) {
    releaseFolder();
    throw error;
  }
}
