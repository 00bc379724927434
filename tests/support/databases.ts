import { randomBytes } from 'node:crypto';
import { readFileSync } from 'node:fs';
import pg from 'pg';
import { afterAll, beforeAll, describe, inject } from 'vitest';
import { type Db, type OpenDatabase, openDatabase } from '@/db/client';

const server = process.env.TEST_DATABASE_URL;

export const hasTestServer = server !== undefined;

/**
 * An empty database of its own on the test cluster, which the product has not opened yet; where
 * `hasOwner`, of a role that owns it and may do nothing else, not even make roles.
 */
export async function createTestDatabase({ hasOwner = false } = {}): Promise<{
  readonly url: string;
  drop(): Promise<void>;
}> {
  if (!server)
    throw new Error('TEST_DATABASE_URL is not set: npm test starts a cluster and sets it');
  const name = `test_${randomBytes(6).toString('hex')}`;
  const admin = async (statement: string) => {
    const client = new pg.Client({ connectionString: server });
    await client.connect();
    await client.query(statement).finally(() => client.end());
  };
  const url = new URL(server);
  url.pathname = `/${name}`;
  if (hasOwner) {
    await admin(`do $$ begin create role idlemark_app nologin;
      exception when duplicate_object then null; end $$`);
    await admin(`create role ${name} login`);
    await admin(`grant idlemark_app to ${name}`);
    url.username = name;
  }
  await admin(`create database ${name} ${hasOwner ? `owner ${name}` : ''}`);
  const drop = async () => {
    await admin(`drop database ${name} with (force)`);
    if (hasOwner) await admin(`drop role ${name}`);
  };
  return { url: url.href, drop };
}

/** A database of its own on the test cluster; dropped on close. */
export async function openTestServer(): Promise<OpenDatabase & { readonly url: string }> {
  const { url, drop } = await createTestDatabase();
  const open = await openDatabase({ url });
  return {
    ...open,
    url,
    close: async () => {
      await open.close();
      await drop();
    },
  };
}

/** A migrated embedded database of its own, in memory. */
export const openTestEmbedded = (): Promise<OpenDatabase> =>
  openDatabase({
    folder: 'memory://',
    beginAs: new Blob([readFileSync(inject('embeddedTemplate'))]),
  });

/**
 * Declares the same tests for the embedded database and for a PostgreSQL server.
 * `db()` is the open database of the running block.
 */
export function onEachDatabase(
  name: string,
  declare: (db: () => Db, kind: 'embedded' | 'server') => void,
): void {
  const kinds = [
    { kind: 'embedded', open: openTestEmbedded, isHere: true },
    { kind: 'server', open: openTestServer, isHere: hasTestServer },
  ] as const;
  for (const { kind, open, isHere } of kinds) {
    if (!isHere) {
      console.warn(`${name}: not run on a PostgreSQL server, since TEST_DATABASE_URL is not set`);
    }
    describe.skipIf(!isHere)(`${name} (${kind})`, () => {
      let opened: OpenDatabase | undefined;
      beforeAll(async () => {
        opened = await open();
      });
      afterAll(() => opened?.close());
      declare(() => {
        if (!opened) throw new Error('the database opens before the tests run');
        return opened.db;
      }, kind);
    });
  }
}
