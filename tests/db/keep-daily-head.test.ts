import { mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { sql } from 'drizzle-orm';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { checkAgainstHeads, keepDailyHead } from '@/app/_keep-daily-head';
import type { OpenDatabase } from '@/db/client';
import { appendToLedger } from '@/db/ledger';
import { openTestEmbedded } from '../support/databases';

const day = (number: number) => new Date(Date.UTC(2026, 0, number, 3));
let opened: OpenDatabase;
let folder: string;

beforeEach(async () => {
  opened = await openTestEmbedded();
  folder = mkdtempSync(join(tmpdir(), 'heads-'));
});
afterEach(async () => {
  rmSync(folder, { recursive: true });
  await opened.close();
});

const append = (note: string, on: number) =>
  opened.db.transaction((tx) =>
    appendToLedger(tx, { kind: 'test', actor: null, now: day(on), payload: { note } }),
  );

/** What only the owner of the database could do: the role and the triggers are put aside. */
async function cutAfter(entry: number): Promise<void> {
  for (const statement of [
    'reset role',
    'alter table ledger_entry disable trigger all',
    'alter table ledger_payload disable trigger all',
    `delete from ledger_payload where entry > ${entry}`,
    `delete from ledger_entry where entry > ${entry}`,
    'alter table ledger_entry enable trigger all',
    'alter table ledger_payload enable trigger all',
    'set role idlemark_app',
  ]) {
    await opened.db.execute(sql.raw(statement));
  }
}

it('keeps one head a day, and none of an empty ledger', async () => {
  const keep = (on: number) => keepDailyHead(opened.db, folder, day(on));
  expect(await keep(1)).toMatchObject({ entries: 0, faults: [] });
  expect(readdirSync(folder)).toEqual([]);
  await append('first', 1);
  expect(await keep(1)).toMatchObject({ entries: 1, headsHeld: 0, faults: [] });
  expect(await keep(1)).toBeNull();
  await append('second', 2);
  expect(await keep(2)).toMatchObject({ entries: 2, headsHeld: 1, faults: [] });
  expect(readdirSync(folder)).toEqual(['2026-01-01.json', '2026-01-02.json']);
});

it('finds a cut tail and a chain written anew, and keeps no head of either', async () => {
  for (const on of [1, 2, 3]) {
    await append(`entry ${on}`, on);
    await keepDailyHead(opened.db, folder, day(on));
  }
  await cutAfter(1);
  expect(await keepDailyHead(opened.db, folder, day(4))).toMatchObject({
    faults: [
      { entry: 2, fault: 'entry missing' },
      { entry: 3, fault: 'entry missing' },
    ],
  });
  await append('another story', 2);
  await append('entry 3', 3);
  expect(await keepDailyHead(opened.db, folder, day(4))).toMatchObject({
    faults: [
      { entry: 2, fault: 'kept head differs' },
      { entry: 3, fault: 'kept head differs' },
    ],
  });
  expect(readdirSync(folder)).toHaveLength(3);
});

it('names a head that cannot be read, and keeps no other beside it', async () => {
  await append('first', 1);
  writeFileSync(join(folder, '2026-01-01.json'), '{"entry":1,"hash":"short"}');
  expect(await checkAgainstHeads(opened.db, folder, day(2))).toMatchObject({
    faults: [],
    spoiltHeads: ['2026-01-01.json'],
  });
  expect(readdirSync(folder)).toEqual(['2026-01-01.json']);
});
