import { randomBytes } from 'node:crypto';
import pg from 'pg';
import { afterAll, beforeAll, describe } from 'vitest';
import { type Db, type OpenDatabase, openDatabase } from '@/db/client';

const server = process.env.TEST_DATABASE_URL;

/** A database of its own on the test cluster; dropped on close. */
export async function openTestServer(): Promise<OpenDatabase & { readonly url: string }> {
  if (!server)
    throw new Error('TEST_DATABASE_URL is not set: npm test starts a cluster and sets it');
  const name = `test_${randomBytes(6).toString('hex')}`;
  const admin = async (statement: string) => {
    const client = new pg.Client({ connectionString: server });
    await client.connect();
    await client.query(statement).finally(() => client.end());
  };
  await admin(`create database ${name}`);
  const url = new URL(server);
  url.pathname = `/${name}`;
  const open = await openDatabase({ url: url.href });
  return {
    ...open,
    url: url.href,
    close: async () => {
      await open.close();
      await admin(`drop database ${name} with (force)`);
    },
  };
}

/**
 * Declares the same tests for the embedded database and for a PostgreSQL server.
 * `db()` is the open database of the running block.
 */
export function onEachDatabase(name: string, declare: (db: () => Db) => void): void {
  const kinds = [
    { kind: 'embedded', open: () => openDatabase({ folder: 'memory://' }), isHere: true },
    { kind: 'server', open: openTestServer, isHere: server !== undefined },
  ];
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
      });
    });
  }
}
