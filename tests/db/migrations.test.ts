import { readdirSync, readFileSync } from 'node:fs';
import { sql } from 'drizzle-orm';
import { describe, expect, it } from 'vitest';
import { openDatabase } from '@/db/client';
import { onEachDatabase, openTestServer } from '../support/databases';

interface Journal {
  readonly entries: readonly {
    readonly idx: number;
    readonly when: number;
    readonly tag: string;
  }[];
}

const journal = JSON.parse(readFileSync('db/migrations/meta/_journal.json', 'utf8')) as Journal;

describe('the journal of migrations', () => {
  it('rises in time, since a migration dated before the newest applied one is skipped in silence', () => {
    const times = journal.entries.map(({ when }) => when);
    expect(times).toEqual([...times].sort((a, b) => a - b));
    expect(new Set(times).size).toBe(times.length);
  });

  it('names every file there is', () => {
    const files = readdirSync('db/migrations').filter((file) => file.endsWith('.sql'));
    expect(files.sort()).toEqual(journal.entries.map(({ tag }) => `${tag}.sql`).sort());
  });
});

onEachDatabase('migrations', (db) => {
  it('are all applied', async () => {
    const result = await db().execute(
      sql`select count(*)::int as applied from pg_tables where schemaname = 'public' and tablename in ('unit', 'reading', 'verdict', 'spell', 'ledger_entry')`,
    );
    expect(result).toMatchObject({ rows: [{ applied: 5 }] });
  });

  it('leave the application a role that cannot change the ledger', async () => {
    const result = await db().execute(sql`select current_user as role,
      has_table_privilege(current_user, 'ledger_entry', 'INSERT') as adds,
      has_table_privilege(current_user, 'ledger_entry', 'UPDATE') as changes,
      has_table_privilege(current_user, 'ledger_entry', 'DELETE') as removes,
      has_table_privilege(current_user, 'ledger_entry', 'TRUNCATE') as empties`);
    expect(result).toMatchObject({
      rows: [{ role: 'idlemark_app', adds: true, changes: false, removes: false, empties: false }],
    });
  });
});

describe.skipIf(!process.env.TEST_DATABASE_URL)(
  'instances that start together on one server',
  () => {
    it('migrate once and all come up', async () => {
      const first = await openTestServer();
      try {
        const others = await Promise.all(
          Array.from({ length: 4 }, () => openDatabase({ url: first.url, poolSize: 1 })),
        );
        const result = await first.db.execute(
          sql`select count(*)::int as shed_tables from pg_tables where schemaname = 'public' and tablename = 'shed'`,
        );
        expect(result).toMatchObject({ rows: [{ shed_tables: 1 }] });
        await Promise.all(others.map((other) => other.close()));
      } finally {
        await first.close();
      }
    });
  },
);
