import { closeSync, mkdirSync, openSync, readFileSync, rmSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import { PGlite } from '@electric-sql/pglite';
import { drizzle as drizzlePg } from 'drizzle-orm/node-postgres';
import { migrate as migratePg } from 'drizzle-orm/node-postgres/migrator';
import type { PgDatabase, PgQueryResultHKT } from 'drizzle-orm/pg-core';
import { drizzle as drizzlePglite } from 'drizzle-orm/pglite';
import { migrate as migratePglite } from 'drizzle-orm/pglite/migrator';
import pg from 'pg';
import * as schema from './schema';

export type Db = PgDatabase<PgQueryResultHKT, typeof schema>;
export type Tx = Parameters<Parameters<Db['transaction']>[0]>[0];

export interface OpenDatabase {
  readonly db: Db;
  readonly kind: 'server' | 'embedded';
  close(): Promise<void>;
}

export interface OpenOptions {
  /** A PostgreSQL address; without it the embedded database opens on `folder`. */
  readonly url?: string;
  /** Folder of the embedded database, or `memory://`. */
  readonly folder?: string;
  readonly poolSize?: number;
}

const migrationsFolder = join(process.cwd(), 'db', 'migrations');
/** Any constant will do, as long as every instance asks for the same one. */
const migrationLock = 74_120_311;

/** Opens the database and brings its schema up to date. Throws when it cannot be reached or is held. */
export async function openDatabase(options: OpenOptions): Promise<OpenDatabase> {
  return options.url
    ? openServer(options.url, options.poolSize ?? 10)
    : openEmbedded(options.folder ?? '.data/database');
}

async function openServer(url: string, poolSize: number): Promise<OpenDatabase> {
  await migrateServer(url);
  const pool = new pg.Pool({
    connectionString: url,
    max: poolSize,
    // A storm of reconnecting devices waits its turn rather than failing at once.
    connectionTimeoutMillis: 30_000,
    statement_timeout: 30_000,
    idle_in_transaction_session_timeout: 60_000,
    options: '-c role=idlemark_app',
  });
  // An idle connection that the server drops must not take the process down; the next query reconnects.
  pool.on('error', (error) => console.error(`database connection lost: ${error.message}`));
  // One that drops amid a transaction fails its query; the same news, unheard, would end the process.
  pool.on('connect', (client) => client.on('error', () => {}));
  const db = drizzlePg(pool, { schema, casing: 'snake_case' });
  return { db, kind: 'server', close: () => pool.end() };
}

async function migrateServer(url: string): Promise<void> {
  const client = new pg.Client({ connectionString: url, connectionTimeoutMillis: 10_000 });
  await client.connect();
  try {
    await client.query('select pg_advisory_lock($1)', [migrationLock]);
    await migratePg(drizzlePg(client), { migrationsFolder });
  } finally {
    await client.end();
  }
}

async function openEmbedded(folder: string): Promise<OpenDatabase> {
  const releaseFolder = folder.startsWith('memory://') ? () => {} : holdFolder(folder);
  try {
    const client = await PGlite.create(folder);
    await migratePglite(drizzlePglite(client), { migrationsFolder });
    await client.exec('set role idlemark_app');
    const db = drizzlePglite(client, { schema, casing: 'snake_case' });
    const close = async () => {
      await client.close();
      releaseFolder();
    };
    return { db, kind: 'embedded', close };
  } catch (error) {
    releaseFolder();
    throw error;
  }
}

/** The embedded database takes no lock of its own, and two processes on one folder lose rows. */
function holdFolder(folder: string): () => void {
  mkdirSync(folder, { recursive: true });
  const path = join(folder, '..', `${folder.split(/[\\/]/).at(-1)}.lock`);
  for (let attempt = 0; attempt < 2; attempt++) {
    try {
      const file = openSync(path, 'wx');
      writeSync(file, String(process.pid));
      closeSync(file);
      return () => rmSync(path, { force: true });
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
      const holder = Number(readFileSync(path, 'utf8'));
      if (holder !== process.pid && isRunning(holder)) {
        throw new Error(
          `The embedded database in ${folder} is held by process ${holder}. Stop it, or set DATABASE_URL to a PostgreSQL server.`,
        );
      }
      rmSync(path, { force: true });
    }
  }
  throw new Error(`The lock ${path} cannot be taken. Remove it if no process uses the database.`);
}

function isRunning(pid: number): boolean {
  if (!Number.isInteger(pid) || pid <= 0) return false;
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
}
