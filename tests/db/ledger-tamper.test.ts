import { sql } from 'drizzle-orm';
import pg from 'pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { OpenDatabase } from '@/db/client';
import { appendToLedger, checkLedger } from '@/db/ledger';
import { sqlState } from '@/db/transaction';
import { onEachDatabase, openTestEmbedded, openTestServer } from '../support/databases';

const entryCount = 1_000;
const start = Date.UTC(2026, 0, 1, 6);

async function fill({ db }: Pick<OpenDatabase, 'db'>, from: number, to: number) {
  for (let batch = from; batch <= to; batch += 100) {
    await db.transaction(async (tx) => {
      for (let number = batch; number < batch + 100 && number <= to; number++) {
        await appendToLedger(tx, {
          kind: number % 2 === 0 ? 'reading recorded' : 'marks changed',
          actor: null,
          now: new Date(start + number * 1_000),
          deviceAt: number % 3 === 0 ? new Date(start + number * 999) : null,
          unitId: number % 5 === 0 ? null : `P-${number % 60}`,
          payload: { number, kPa: number / 7, note: 'as keyed' },
        });
      }
    });
  }
}

onEachDatabase('the ledger as the application sees it', (db) => {
  it('takes entries and refuses every way of changing them', async () => {
    await fill({ db: db() }, 1, 3);
    for (const statement of [
      "update ledger_entry set kind = 'x' where entry = 1",
      'delete from ledger_entry where entry = 3',
      'truncate ledger_entry cascade',
      "update ledger_payload set canonical = '{}' where entry = 1",
      'delete from ledger_payload where entry = 1',
      'alter table ledger_entry disable trigger all',
      'drop table ledger_entry cascade',
    ]) {
      const state = await db()
        .execute(sql.raw(statement))
        .then(() => 'done', sqlState);
      expect([statement, state]).toEqual([statement, '42501']);
    }
    expect(await checkLedger(db())).toMatchObject({ entries: 3, faults: [] });
  });
});

// Somebody with the keys of the database itself, whom no grant stops, is found by the chain.
const isServerHere = process.env.TEST_DATABASE_URL !== undefined;
describe.skipIf(!isServerHere)('1,000 entries and an owner who alters them (server)', () => {
  let opened: OpenDatabase & { readonly url: string };
  let owner: pg.Client;
  let head: { entry: number; hash: string };

  beforeAll(async () => {
    opened = await openTestServer();
    await fill(opened, 1, entryCount);
    owner = new pg.Client({ connectionString: opened.url });
    await owner.connect();
    await owner.query('alter table ledger_entry disable trigger all');
    await owner.query('alter table ledger_payload disable trigger all');
    const check = await checkLedger(opened.db);
    head = { entry: check.entries, hash: check.head ?? '' };
  });
  afterAll(async () => {
    await owner?.end();
    await opened?.close();
  });

  const altered = async (change: string, undo: string) => {
    await owner.query(change);
    const { faults } = await checkLedger(opened.db, head);
    await owner.query(undo);
    return faults;
  };

  it('is whole', async () => {
    expect(await checkLedger(opened.db, head)).toEqual({
      entries: entryCount,
      head: head.hash,
      faults: [],
      purged: 0,
    });
  });

  it.each([
    'kind',
    'unit_id',
    'payload_digest',
    'previous_hash',
    'hash',
    'at',
    'device_at',
    'canonical',
  ])('finds a flipped bit of %s in each of 1,000 entries', async (column) => {
    const table = column === 'canonical' ? 'ledger_payload' : 'ledger_entry';
    const bytes = `convert_to(${column}, 'UTF8')`;
    const bit = `((entry * 7) % length(${column}))::int * 8 + (entry % 4)::int`;
    // A time's last bit is a microsecond; a text's bits stay clear of the eighth, which ends UTF-8.
    const flipped = column.endsWith('at')
      ? `${column} + interval '1 microsecond'`
      : `convert_from(set_bit(${bytes}, ${bit}, 1 - get_bit(${bytes}, ${bit})), 'UTF8')`;
    await owner.query(`create table kept as select entry, ${column} as was from ${table}`);
    await owner.query(`update ${table} set ${column} = ${flipped} where ${column} is not null`);
    const { faults } = await checkLedger(opened.db, head);
    const { rows } = await owner.query(`select entry::int from kept where was is not null`);
    await owner.query(
      `update ${table} t set ${column} = kept.was from kept where kept.entry = t.entry`,
    );
    await owner.query('drop table kept');
    const named = new Set(faults.map(({ entry }) => entry));
    expect(rows.length).toBeGreaterThan(300);
    expect(rows.filter(({ entry }) => !named.has(entry))).toEqual([]);
    expect((await checkLedger(opened.db, head)).faults).toEqual([]);
  });

  it('finds an altered payload and a changed time', async () => {
    expect(
      await altered(
        `update ledger_payload set canonical = replace(canonical, 'as keyed', 'as wished') where entry = 500`,
        `update ledger_payload set canonical = replace(canonical, 'as wished', 'as keyed') where entry = 500`,
      ),
    ).toEqual([{ entry: 500, fault: 'payload differs' }]);
    expect(
      await altered(
        `update ledger_entry set at = at - interval '1 day' where entry = 700`,
        `update ledger_entry set at = at + interval '1 day' where entry = 700`,
      ),
    ).toEqual([{ entry: 700, fault: 'hash differs' }]);
  });

  it('finds a cut tail, and a chain written anew, by the head kept elsewhere', async () => {
    await owner.query('create table tail as select * from ledger_entry where entry > 990');
    await owner.query(
      'create table tail_payload as select * from ledger_payload where entry > 990',
    );
    await owner.query('delete from ledger_payload where entry > 990');
    await owner.query('delete from ledger_entry where entry > 990');
    expect((await checkLedger(opened.db)).faults).toEqual([]);
    expect((await checkLedger(opened.db, head)).faults).toEqual([
      { entry: entryCount, fault: 'entry missing' },
    ]);

    await opened.db.transaction(async (tx) => {
      for (let number = 991; number <= entryCount; number++) {
        await appendToLedger(tx, {
          kind: 'reading recorded',
          actor: null,
          now: new Date(start + number * 1_000),
          payload: { number, note: 'written anew' },
        });
      }
    });
    expect((await checkLedger(opened.db)).faults).toEqual([]);
    expect((await checkLedger(opened.db, head)).faults).toEqual([
      { entry: entryCount, fault: 'kept head differs' },
    ]);
  });
});

describe('a ledger on another machine', () => {
  it('has no head before its first entry', async () => {
    const opened = await openTestEmbedded();
    try {
      expect(await checkLedger(opened.db)).toEqual({
        entries: 0,
        head: null,
        faults: [],
        purged: 0,
      });
    } finally {
      await opened.close();
    }
  });
});
