import { PGlite } from '@electric-sql/pglite';
import { drizzle as drizzlePg } from 'drizzle-orm/node-postgres';
import { migrate as migratePg } from 'drizzle-orm/node-postgres/migrator';
import type { PgDatabase, PgQueryResultHKT } from 'drizzle-orm/pg-core';
import { drizzle as drizzlePglite } from 'drizzle-orm/pglite';
import { migrate as migratePglite } from 'drizzle-orm/pglite/migrator';
import pg from 'pg';
import { holdFolder } from './hold-folder';
import { log } from './log';
import { migrationsFolder } from './migrations-in-order';
import * as schema from './schema';

export type Db = PgDatabase<PgQueryResultHKT, typeof schema>;
export type Tx = Parameters<Parameters<Db['transaction']>[0]>[0];

export interface OpenDatabase {
  readonly db: Db;
  readonly kind: 'server' | 'embedded';
  /** How many connections to the server stand; null on the embedded database, which has none. */
  readonly connections: (() => Readonly<Record<'open' | 'idle' | 'waiting', number>>) | null;
  close(): Promise<void>;
}

export interface OpenOptions {
  /** A PostgreSQL address; without it the embedded database opens on `folder`. */
  readonly url?: string;
  /** Folder of the embedded database, or `memory://`. */
  readonly folder?: string;
  /** A dump of an embedded database that a new one begins as. */
  readonly beginAs?: Blob;
  readonly poolSize?: number;
  /** How long a write waits for a free connection, and for one statement's answer, ms. */
  readonly connectionWait?: number;
  readonly statementWait?: number;
}

/** Any constant will do, as long as every instance asks for the same one. */
const migrationLock = 74_120_311;

/** Opens the database and brings its schema up to date. Throws when it cannot be reached or is held. */
export async function openDatabase(options: OpenOptions): Promise<OpenDatabase> {
  return options.url
    ? openServer(options.url, options)
    : openEmbedded(options.folder ?? '.data/database', options.beginAs);
}

async function openServer(
  url: string,
  { poolSize = 10, connectionWait = 30_000, statementWait = 30_000 }: OpenOptions,
): Promise<OpenDatabase> {
  await migrateServer(url);
  const pool = new pg.Pool({
    connectionString: url,
    max: poolSize,
    // A storm of reconnecting devices waits its turn rather than failing at once.
    connectionTimeoutMillis: connectionWait,
    statement_timeout: statementWait,
    idle_in_transaction_session_timeout: 60_000,
    // Compiling a statement takes longer than any of ours runs: half a second, for one that takes a tenth.
    options: '-c role=idlemark_app -c jit=off',
  });
  // An idle connection that the server drops must not take the process down; the next query reconnects.
  pool.on('error', (err) => log.error({ err }, 'a database connection was lost'));
  // One that drops amid a transaction fails its query; the same news, unheard, would end the process.
  pool.on('connect', (client) => client.on('error', () => {}));
  const db: Db = drizzlePg(pool, { schema, casing: 'snake_case' });
  const onConnection = new WeakMap<pg.PoolClient, Db['transaction']>();
  // The library's own gives a connection back only once `begin` was answered: one lost there stays lost.
  db.transaction = async (work, config) => {
    const client = await pool.connect();
    try {
      const known = onConnection.get(client);
      const transaction = known ?? transactionOn(client);
      if (!known) onConnection.set(client, transaction);
      return await transaction(work, config);
    } finally {
      client.release();
    }
  };
  const connections = () => ({
    open: pool.totalCount,
    idle: pool.idleCount,
    waiting: pool.waitingCount,
  });
  return { db, kind: 'server', connections, close: () => pool.end() };
}

function transactionOn(client: pg.PoolClient): Db['transaction'] {
  const db = drizzlePg(client, { schema, casing: 'snake_case' });
  return (work, config) => db.transaction(work, config);
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

async function openEmbedded(folder: string, beginAs?: Blob): Promise<OpenDatabase> {
  const releaseFolder = folder.startsWith('memory://') ? () => {} : holdFolder(folder);
  try {
    const client = await PGlite.create(folder, beginAs && { loadDataDir: beginAs });
    await migratePglite(drizzlePglite(client), { migrationsFolder });
    await client.exec('set role idlemark_app');
    const db = drizzlePglite(client, { schema, casing: 'snake_case' });
    const close = async () => {
      await client.close();
      releaseFolder();
    };
    return { db, kind: 'embedded', connections: null, close };
  } catch (error) {
    releaseFolder();
    throw error;
  }
}
