import { mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gunzipSync, gzipSync } from 'node:zlib';
import { eq } from 'drizzle-orm';
import pg from 'pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { backup, type DatabaseAddress, move, restore } from '@/app/_cli/backup';
import { openDatabase } from '@/db/client';
import { checkLedger } from '@/db/ledger';
import { migrationTags } from '@/db/migrations-in-order';
import { connectAsOwner } from '@/db/owner-connection';
import { ledgerEntry, reading, unit, workOrder } from '@/db/schema';
import { recordReading } from '@/db/writes/record-reading';
import { standDown } from '@/db/writes/stand-down';
import { createTestDatabase, hasTestServer } from '../support/databases';
import { soundPayload } from '../support/sound-payload';
import { makeFixture, putFinishedOrder, putReading } from '../support/tarn-fixture';

const now = new Date('2026-05-04T15:00:00Z');
const work = mkdtempSync(join(tmpdir(), 'idlemark-backup-'));
afterAll(() => rmSync(work, { recursive: true, force: true }));
const path = (name: string) => join(work, name);

/** Odd text and odd figures on purpose: what a format could lose. */
async function fill(at: DatabaseAddress): Promise<void> {
  const open = await openDatabase(at);
  try {
    const fixture = await makeFixture(open.db, 3);
    const [first, second] = fixture.unitIds as [string, string];
    const technician = await fixture.person('technician');
    const payload = { ...soundPayload(first, technician.personId), confirmed: [] };
    const recorded = await recordReading(open.db, { actor: technician, payload, now });
    expect(recorded.ok).toBe(true);
    const place = { unitId: second, shedId: fixture.shedId, by: technician.personId, on: now };
    await putReading(open.db, place, {
      idleVacuumKpa: 0.1 + 0.2,
      recoveryS: 5e-324,
      note: 'a "quoted", (bracketed) \\ back\u2028slash\nand a new line, é, 🚚',
      keyed: { idle: { value: '13,0"', unit: null } },
    });
    await putReading(open.db, place, { note: '' });
    await putFinishedOrder(open.db, { unitId: second, by: technician.personId, finishedAt: now });
    await standDown(open.db, {
      actor: technician,
      unitId: second,
      cause: 'hard pedal on the road',
      note: null,
      now,
    });
  } finally {
    await open.close();
  }
}

/** Every row of every table as PostgreSQL itself writes it. */
async function contents(at: DatabaseAddress): Promise<Record<string, readonly string[]>> {
  const connection = await connectAsOwner(at);
  try {
    const tables = await connection.query<{ name: string }>(
      "select tablename as name from pg_tables where schemaname = 'public' order by 1",
    );
    const found: Record<string, readonly string[]> = {};
    for (const { name } of tables) {
      const rows = await connection.query<{ row: string }>(
        `select t::text as row from "${name}" t order by t::text collate "C"`,
      );
      found[name] = rows.map(({ row }) => row);
    }
    return found;
  } finally {
    await connection.close();
  }
}

const folder = (name: string): DatabaseAddress => ({ folder: path(name) });
let servers = 0;
const places = [
  { kind: 'embedded', isHere: true, make: async () => folder(`embedded-${servers++}`) },
  {
    kind: 'server',
    isHere: hasTestServer,
    make: async () => ({ url: (await createTestDatabase({ hasOwner: true })).url, folder: '' }),
  },
] as const;

for (const { kind, isHere, make } of places) {
  describe.skipIf(!isHere)(`backup and restore (${kind})`, () => {
    const file = path(`${kind}.backup`);
    let source: DatabaseAddress;
    beforeAll(async () => {
      source = await make();
      await fill(source);
      await backup(source, file, now);
    });

    it('gives back every row as it was, the ledger whole, numbers going on from there', async () => {
      const target = await make();
      const closing = await restore(target, file);
      expect(await contents(target)).toEqual(await contents(source));
      expect(closing.rows).toMatchObject({ reading: 3, spell: 1, unit: 3 });
      const open = await openDatabase(target);
      try {
        const check = await checkLedger(open.db, {
          entry: closing.ledger.entries,
          hash: closing.ledger.head ?? '',
        });
        expect(check.faults).toEqual([]);
        const orders = await open.db.select().from(workOrder).orderBy(workOrder.number);
        const [next] = await open.db
          .insert(workOrder)
          .values({
            unitId: orders[0]?.unitId ?? '',
            state: 'raised',
            why: 'next',
            raisedFrom: 'by hand',
            raisedAt: now,
          })
          .returning({ number: workOrder.number });
        expect(next?.number).toBe((orders.at(-1)?.number ?? 0) + 1);
        // The guards are back: references are looked at again at once, and the record is final.
        const stray = open.db.insert(unit).values({
          id: 'STRAY',
          shedId: 'none',
          body: 'SUV',
          odometerUnit: 'mi',
          trackedFrom: '2026-01-01',
        });
        await expect(stray).rejects.toThrow();
        await expect(open.db.delete(ledgerEntry)).rejects.toThrow();
        await expect(
          open.db.update(reading).set({ note: 'x' }).where(eq(reading.line, 'dry')),
        ).rejects.toThrow();
      } finally {
        await open.close();
      }
    });

    it('is read by its owner alone and takes the place of no other file', async () => {
      expect(statSync(file).mode & 0o077).toBe(0);
      const before = readFileSync(file);
      await expect(backup(source, file, now)).rejects.toThrow(/EEXIST/);
      expect(readFileSync(file)).toEqual(before);
    });

    it('refuses a database that holds anything, and changes nothing in it', async () => {
      const before = await contents(source);
      await expect(restore(source, file)).rejects.toThrow(/not empty/);
      expect(await contents(source)).toEqual(before);
    });

    it('refuses a file cut short or altered, wherever, and leaves the database empty', async () => {
      const target = await make();
      const whole = readFileSync(file);
      const lines = gunzipSync(whole).toString('utf8');
      const swapped = lines.replace('13,0', '12,0');
      expect(swapped).not.toBe(lines);
      const cases: readonly (readonly [string, Buffer, RegExp])[] = [
        ['half of the bytes', whole.subarray(0, whole.length / 2), /cut short/],
        ['the last byte', whole.subarray(0, -1), /cut short|no longer as it was/],
        [
          'without its last line',
          gzipSync(`${lines.trim().split('\n').slice(0, -1).join('\n')}\n`),
          /cut short/,
        ],
        ['one figure changed', gzipSync(swapped), /no longer as it was written/],
        ['one line gone', gzipSync(lines.split('\n').toSpliced(4, 1).join('\n')), /no longer/],
        ['a line more', gzipSync(`${lines}"()"\n`), /no longer/],
        ['no gzip', Buffer.from('hello'), /no backup/],
        ['something else', gzipSync('hello\n'), /no backup/],
        ['nothing', gzipSync(''), /cut short/],
      ];
      for (const [name, bytes, message] of cases) {
        writeFileSync(path('bad.backup'), bytes);
        await expect(restore(target, path('bad.backup')), name).rejects.toThrow(message);
      }
      await restore(target, file);
    });
  });
}

describe('a backup of an older schema', () => {
  it('is restored there and brought up to date', async () => {
    const make = hasTestServer ? places[1].make : places[0].make;
    const source = await make();
    const old = await connectAsOwner(source);
    await old.migrateTo(2);
    await old.query(`insert into shed values ('s', 'Old shed', 10, 'UTC', 'psi', 'mi', 20)`);
    await old.close();
    await backup(source, path('older.backup'), now);
    const target = await make();
    await restore(target, path('older.backup'));
    const open = await openDatabase(target);
    try {
      expect(await open.db.query.shed.findMany()).toHaveLength(1);
      expect(await open.db.query.fleetPrior.findMany()).toEqual([]);
    } finally {
      await open.close();
    }
    const connection = await connectAsOwner(target);
    const [row] = await connection.query<{ n: number }>(
      'select count(*)::int as n from drizzle.__drizzle_migrations',
    );
    await connection.close();
    expect(row?.n).toBe(migrationTags().length);
  });
});

describe.skipIf(!hasTestServer)('a move', () => {
  it('takes the embedded database to a server with every row', async () => {
    const source = folder('small-shop');
    await fill(source);
    const { url } = await createTestDatabase({ hasOwner: true });
    const closing = await move(source, { url, folder: '' }, now);
    const moved = await contents({ url, folder: '' });
    expect(moved).toEqual(await contents(source));
    expect(closing.rows.reading).toBe(moved.reading?.length);
    const client = new pg.Client({ connectionString: url });
    await client.connect();
    const { rows } = await client.query(
      "select count(*)::int as loose from pg_constraint where contype = 'f' and condeferrable",
    );
    await client.end();
    expect(rows).toEqual([{ loose: 0 }]);
  });
});
