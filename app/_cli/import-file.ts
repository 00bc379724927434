import { randomUUID } from 'node:crypto';
import { createReadStream, createWriteStream } from 'node:fs';
import { stat } from 'node:fs/promises';
import { basename } from 'node:path';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import type { Db, OpenDatabase } from '@/db/client';
import { checkImport } from '@/db/imports/check-import';
import { headerOf } from '@/db/imports/csv-records';
import { beginImport, cancelImport, keepPiece, piecesOf } from '@/db/imports/keep-file';
import { mappingFor } from '@/db/imports/remembered-mapping';
import { rowsInQuestion } from '@/db/imports/rows-in-question';
import type { ImportCounts } from '@/db/schema';
import { applyImport } from '@/db/writes/apply-import';
import type { Actor } from '@/lib/access';
import type { ImportKind } from '@/lib/intake/import/import-fields';
import { type ImportOptions, mappingWith } from './import-options';
import { NotImported, personActing } from './person-acting';

type FileOptions = ImportOptions & { readonly kind: ImportKind };

const pieceBytes = 1 << 20;

/** Puts a file on record; gives what to print and the exit code. */
export async function importFile(
  { db, kind }: Pick<OpenDatabase, 'db' | 'kind'>,
  options: FileOptions,
  now: Date,
  onStep: (step: 'sent' | 'checked' | 'on record') => void = () => {},
): Promise<{ readonly said: string; readonly code: 0 | 2 }> {
  const actor = await personActing(db, options.as);
  const importId = randomUUID();
  await sendFile(db, actor, importId, options, now);
  onStep('sent');
  let stagedTo = 0;
  const onStaged = (line: number) => {
    stagedTo = line;
  };
  const checked = checkFile(db, actor, { importId, options, now, onStaged }).then((counts) => {
    onStep('checked');
    return counts;
  });
  // The embedded database has one connection, which the check is using.
  const isBeside = kind === 'server' && options.kind === 'readings' && !options['dry-run'];
  const underWay = { checked, stagedTo: () => stagedTo };
  const put = isBeside ? applyImport(db, { actor, importId, now, underWay }) : null;
  // Its failure is met once the check has ended.
  put?.catch(() => {});
  try {
    const counts = await checked;
    const parts = Object.entries(counts).map(([outcome, rows]) => `${rows} ${outcome}`);
    const code = counts.refused > 0 ? 2 : 0;
    if (options['dry-run']) {
      return { said: `Nothing put on record. It would be: ${parts.join(', ')}.`, code };
    }
    if (counts.new + counts.changed === 0) {
      return { said: `Nothing to put on record: ${parts.join(', ')}.`, code };
    }
    const applied = await (put ?? applyImport(db, { actor, importId, now }));
    if (!applied.ok) throw new NotImported('The record changed meanwhile. Import the file again.');
    onStep('on record');
    return { said: `${parts.join(', ')}. Ledger entry ${applied.value.entry}.`, code };
  } finally {
    await cancelImport(db, actor, importId);
    await Promise.allSettled([put]);
  }
}

/** Says what would become of each row, and writes the refused ones where they were asked for. */
async function checkFile(
  db: Db,
  actor: Actor,
  check: {
    readonly importId: string;
    readonly options: FileOptions;
    readonly now: Date;
    readonly onStaged: (line: number) => void;
  },
): Promise<ImportCounts> {
  const { importId, options, now, onStaged } = check;
  const header = await headerOf(piecesOf(db, importId), options.encoding ?? 'utf-8');
  const known = await mappingFor(db, options.kind, header);
  const mapping = mappingWith(known.mapping, options);
  const checked = await checkImport(db, actor, { importId, mapping, now, onStaged });
  if (checked.state === 'not ours') throw new NotImported('The import was cancelled meanwhile.');
  if (checked.state === 'faulty') {
    const faults = checked.faults.map(({ field, message, mend }) => `${field}: ${message} ${mend}`);
    throw new NotImported(faults.join('\n'));
  }
  if (options.refused) await writeRefused(db, actor, importId, options.refused);
  return checked.counts;
}

async function sendFile(
  db: Db,
  actor: Actor,
  importId: string,
  { kind, file }: FileOptions,
  now: Date,
): Promise<void> {
  const { size } = await stat(file);
  await beginImport(db, actor, {
    id: importId,
    kind,
    fileName: basename(file),
    byteCount: size,
    now,
  });
  let position = 0;
  const pieces: AsyncIterable<Uint8Array> = createReadStream(file, { highWaterMark: pieceBytes });
  for await (const bytes of pieces) {
    await keepPiece(db, actor, { importId, position, bytes });
    position += 1;
  }
}

async function writeRefused(db: Db, actor: Actor, importId: string, path: string): Promise<void> {
  const rows = await rowsInQuestion(db, actor, importId, 'refused');
  if (rows) await pipeline(Readable.from(rows), createWriteStream(path));
}
