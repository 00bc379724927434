import { readFile, writeFile } from 'node:fs/promises';
import { bulletinsOfTable, bulletinTable } from '@/app/effectivity/import/bulletin-file';
import type { Db } from '@/db/client';
import { bulletinColumnsFor } from '@/db/imports/remembered-mapping';
import { importBulletins } from '@/db/writes/import-bulletins';
import { refusedRows } from '@/lib/outflow/refused-rows';
import type { ImportOptions } from './import-options';
import { personActing } from './person-acting';

type Options = Pick<ImportOptions, 'file' | 'as' | 'dry-run' | 'refused'>;

/** Puts all bulletins of a file on record, or none; gives what to print and the exit code. */
export async function importBulletinFile(
  db: Db,
  { file, as, refused, 'dry-run': isDryRun }: Options,
  now: Date,
): Promise<{ readonly said: string; readonly code: 0 | 2 }> {
  const actor = await personActing(db, as);
  const table = bulletinTable(await readFile(file));
  const read = table.ok
    ? bulletinsOfTable(table.value, (await bulletinColumnsFor(db, table.value.header)).held)
    : table;
  const done = read.ok
    ? await importBulletins(db, { actor, bulletins: read.value, isDryRun, now })
    : read;
  if (refused) await writeFile(refused, refusedRows(done.ok ? [] : done.error));
  if (!done.ok) {
    const told = done.error.map(
      ({ line, field, message, mend }) =>
        `${line ? `line ${line}, ` : ''}${field}: ${message} ${mend}`,
    );
    return { said: ['Nothing put on record.', ...told].join('\n'), code: 2 };
  }
  const { entered, unchanged, unitsCovered, toJudge } = done.value;
  const left = toJudge > 0 ? ` The sweep judges the marks of ${toJudge} units.` : '';
  const counts = `${entered} new, ${unchanged} unchanged, ${unitsCovered} units covered or undecided.${left}`;
  return { said: isDryRun ? `Nothing put on record. It would be: ${counts}` : counts, code: 0 };
}
