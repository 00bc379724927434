import { createHash } from 'node:crypto';
import { checkLedger } from '../ledger';
import { migrationTags } from '../migrations-in-order';
import type { OwnerConnection } from '../owner-connection';
import { type BackupClosing, type BackupHeader, UnfitBackup } from './backup-format';
import { migrationsApplied, tablesOnRecord } from './tables-on-record';

const rowsAtATime = 2_000;

/** The lines of a backup, without line ends, all as of one moment; readings go on meanwhile. */
export async function* backupLines(
  source: OwnerConnection,
  takenAt: Date,
): AsyncGenerator<string, BackupClosing> {
  const digest = createHash('sha256');
  const sealed = (line: string) => {
    digest.update(`${line}\n`);
    return line;
  };
  await source.query('begin isolation level repeatable read read only');
  try {
    yield sealed(JSON.stringify(await headerOf(source, takenAt)));
    const rows: Record<string, number> = {};
    for (const table of await tablesOnRecord(source)) {
      yield sealed(JSON.stringify({ table }));
      let count = 0;
      for await (const row of rowsOf(source, table)) {
        count += 1;
        yield sealed(JSON.stringify(row));
      }
      rows[table] = count;
    }
    const { entries, head, faults } = await checkLedger(source.db);
    const closing: BackupClosing = {
      rows,
      sequences: await sequencesOf(source),
      ledger: { entries, head, faults: faults.length },
      digest: digest.digest('hex'),
    };
    yield JSON.stringify(closing);
    return closing;
  } finally {
    await source.query('rollback');
  }
}

async function headerOf(source: OwnerConnection, takenAt: Date): Promise<BackupHeader> {
  const applied = await migrationsApplied(source);
  const known = migrationTags();
  if (applied === 0) throw new UnfitBackup('The database is empty: there is nothing to back up.');
  if (applied > known.length) {
    throw new UnfitBackup(
      'The database is of a newer version of the product. Back it up with that version.',
    );
  }
  return {
    format: 'idlemark backup',
    version: 1,
    takenAt: takenAt.toISOString(),
    migrations: known.slice(0, applied),
  };
}

async function* rowsOf(source: OwnerConnection, table: string): AsyncGenerator<string> {
  await source.query(
    `declare backed_up no scroll cursor for select t::text as row from "${table}" t`,
  );
  for (;;) {
    const rows = await source.query<{ row: string }>(`fetch ${rowsAtATime} from backed_up`);
    for (const { row } of rows) yield row;
    if (rows.length < rowsAtATime) break;
  }
  await source.query('close backed_up');
}

async function sequencesOf(source: OwnerConnection): Promise<BackupClosing['sequences']> {
  const named = await source.query<{ name: string }>(
    `select relname as name from pg_class
     where relnamespace = 'public'::regnamespace and relkind = 'S' order by relname`,
  );
  const sequences: BackupClosing['sequences'] = {};
  for (const { name } of named) {
    const [state] = await source.query<{ last: string; isCalled: boolean }>(
      `select last_value::text as last, is_called as "isCalled" from "${name}"`,
    );
    if (state) sequences[name] = state;
  }
  return sequences;
}
