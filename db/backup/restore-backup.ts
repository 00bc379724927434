import { checkLedger } from '../ledger';
import { migrationTags } from '../migrations-in-order';
import type { OwnerConnection } from '../owner-connection';
import { type BackupClosing, type BackupHeader, UnfitBackup } from './backup-format';
import type { BackupPart } from './backup-parts';
import { migrationsApplied, tablesOnRecord } from './tables-on-record';

const rowsAtATime = 1_000;
const charactersAtATime = 4_000_000;

/**
 * Fills an empty database from a backup, in one transaction, and brings its schema up to date. Counts
 * of every table and the chain of the ledger must come out as they were; otherwise nothing is kept.
 */
export async function restoreBackup(
  target: OwnerConnection,
  parts: AsyncIterable<BackupPart>,
): Promise<BackupClosing> {
  const iterator = parts[Symbol.asyncIterator]();
  const first = await iterator.next();
  if (first.done || first.value.kind !== 'header') throw new UnfitBackup('The backup is empty.');
  await prepare(target, first.value.header);
  await target.query('begin');
  let closing: BackupClosing;
  try {
    await deferReferences(target, true);
    closing = await load(target, iterator);
    await deferReferences(target, false);
    await verify(target, closing);
    await target.query('commit');
  } catch (error) {
    await target.query('rollback');
    throw error;
  }
  await target.migrateTo(migrationTags().length);
  await target.query('analyze');
  return closing;
}

/** Goes to the schema that the rows fit. Refuses a database that holds anything. */
async function prepare(target: OwnerConnection, { migrations }: BackupHeader): Promise<void> {
  const known = migrationTags();
  if (migrations.some((tag, k) => tag !== known[k])) {
    throw new UnfitBackup(
      'The backup is of a newer version of the product. Restore it with that version.',
    );
  }
  const applied = await migrationsApplied(target);
  for (const table of await tablesOnRecord(target)) {
    const [row] = await target.query<{ holds: boolean }>(
      `select exists (select from "${table}") as holds`,
    );
    if (row?.holds) {
      throw new UnfitBackup(
        `The database is not empty: ${table} holds rows. Restore into a newly created one.`,
      );
    }
  }
  if (applied > migrations.length) {
    throw new UnfitBackup(
      'The backup is older than the schema of this database. Restore into a newly created one.',
    );
  }
  await target.migrateTo(migrations.length);
}

/** Tables refer to one another, and to themselves, in no order that fits: looked at together at the end. */
async function deferReferences(target: OwnerConnection, isDeferred: boolean): Promise<void> {
  if (!isDeferred) await target.query('set constraints all immediate');
  const references = await target.query<{ name: string; table: string }>(
    `select conname as name, conrelid::regclass::text as table from pg_constraint
     where contype = 'f' and connamespace = 'public'::regnamespace`,
  );
  const how = isDeferred ? 'deferrable initially deferred' : 'not deferrable';
  for (const { name, table } of references) {
    await target.query(`alter table ${table} alter constraint "${name}" ${how}`);
  }
}

async function load(
  target: OwnerConnection,
  parts: AsyncIterator<BackupPart>,
): Promise<BackupClosing> {
  const known = new Set(await tablesOnRecord(target));
  let table = '';
  let rows: string[] = [];
  let characters = 0;
  const flush = async () => {
    if (rows.length === 0) return;
    await target.query(
      `insert into "${table}" overriding system value
       select (r).* from (select t::"${table}" as r from unnest($1::text[]) t offset 0) s`,
      [rows],
    );
    rows = [];
    characters = 0;
  };
  for (;;) {
    const { value: part, done } = await parts.next();
    if (done || part.kind === 'header') throw new UnfitBackup('The backup has no closing line.');
    if (part.kind === 'row') {
      characters += part.row.length;
      rows.push(part.row);
      if (rows.length >= rowsAtATime || characters >= charactersAtATime) await flush();
      continue;
    }
    await flush();
    if (part.kind === 'closing') {
      for (const [name, { last, isCalled }] of Object.entries(part.closing.sequences)) {
        await target.query('select setval($1::regclass, $2::bigint, $3)', [name, last, isCalled]);
      }
      return part.closing;
    }
    if (!known.has(part.table)) {
      throw new UnfitBackup(
        `The backup holds a table ${part.table} that its schema does not have.`,
      );
    }
    table = part.table;
  }
}

async function verify(target: OwnerConnection, { rows, ledger }: BackupClosing): Promise<void> {
  for (const [table, count] of Object.entries(rows)) {
    const [row] = await target.query<{ rows: number }>(
      `select count(*)::int as rows from "${table}"`,
    );
    if (row?.rows !== count) {
      throw new UnfitBackup(
        `${table} came out with ${row?.rows ?? 0} rows instead of ${count}. Nothing was restored.`,
      );
    }
  }
  const { entries, head, faults } = await checkLedger(target.db);
  if (entries !== ledger.entries || head !== ledger.head || faults.length !== ledger.faults) {
    const at = faults[0] ? ` It is broken at entry ${faults[0].entry}.` : '';
    throw new UnfitBackup(
      `The ledger in the backup is not the one that was backed up.${at} Nothing was restored.`,
    );
  }
}
