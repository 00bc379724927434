import { randomUUID } from 'node:crypto';
import { createReadStream, createWriteStream } from 'node:fs';
import { stat } from 'node:fs/promises';
import { basename } from 'node:path';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import type { Db } from '@/db/client';
import { checkImport } from '@/db/imports/check-import';
import { headerOf } from '@/db/imports/csv-records';
import { beginImport, cancelImport, keepPiece, piecesOf } from '@/db/imports/keep-file';
import { mappingFor } from '@/db/imports/remembered-mapping';
import { rowsInQuestion } from '@/db/imports/rows-in-question';
import { applyImport } from '@/db/writes/apply-import';
import type { Actor } from '@/lib/access';
import type { ImportKind } from '@/lib/intake/import/import-fields';
import { type ImportOptions, mappingWith } from './import-options';
import { NotImported, personActing } from './person-acting';

type FileOptions = ImportOptions & { readonly kind: ImportKind };

const pieceBytes = 1 << 20;

/** Puts a file on record; gives what to print and the exit code. */
export async function importFile(
  db: Db,
  options: FileOptions,
  now: Date,
  onStep: (step: 'sent' | 'checked' | 'on record') => void = () => {},
): Promise<{ readonly said: string; readonly code: 0 | 2 }> {
  const actor = await personActing(db, options.as);
  const importId = randomUUID();
  await sendFile(db, actor, importId, options, now);
  onStep('sent');
  try {
    const pieces = () => piecesOf(db, importId);
    const header = await headerOf(pieces(), options.encoding ?? 'utf-8');
    const { mapping } = await mappingFor(db, options.kind, header);
    const checked = await checkImport(db, actor, {
      importId,
      mapping: mappingWith(mapping, options),
      now,
    });
    if (checked.state === 'not ours') throw new NotImported('The import was cancelled meanwhile.');
    if (checked.state === 'faulty') {
      const faults = checked.faults.map(
        ({ field, message, mend }) => `${field}: ${message} ${mend}`,
      );
      throw new NotImported(faults.join('\n'));
    }
    const { counts } = checked;
    onStep('checked');
    if (options.refused) await writeRefused(db, actor, importId, options.refused);
    const parts = Object.entries(counts).map(([outcome, rows]) => `${rows} ${outcome}`);
    const code = counts.refused > 0 ? 2 : 0;
    if (options['dry-run']) {
      return { said: `Nothing put on record. It would be: ${parts.join(', ')}.`, code };
    }
    if (counts.new + counts.changed === 0) {
      return { said: `Nothing to put on record: ${parts.join(', ')}.`, code };
    }
    const applied = await applyImport(db, { actor, importId, now });
    if (!applied.ok) throw new NotImported('The record changed meanwhile. Import the file again.');
    onStep('on record');
    return { said: `${parts.join(', ')}. Ledger entry ${applied.value.entry}.`, code };
  } finally {
    await cancelImport(db, actor, importId);
  }
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
