'use server';

import { randomUUID } from 'node:crypto';
import { refresh } from 'next/cache';
import { z } from 'zod';
import { unlessDenied } from '@/app/_denied';
import { requireSignIn } from '@/app/_session';
import type { OpenDatabase } from '@/db/client';
import { database } from '@/db/handle';
import { notePutFault, notePutProgress } from '@/db/imports/being-put';
import { checkImport } from '@/db/imports/check-import';
import { beginImport, cancelImport, importRunOf } from '@/db/imports/keep-file';
import { log } from '@/db/log';
import { sweepFleet } from '@/db/record/sweep';
import type { PutProgress } from '@/db/schema';
import { applyImport } from '@/db/writes/apply-import';
import { AccessDenied, type Actor } from '@/lib/access';
import { columnMapping } from '@/lib/intake/import/column-mapping';
import { importFields, importKinds } from '@/lib/intake/import/import-fields';
import { plainLine } from '@/lib/plain-text';
import type { Problem } from '@/lib/result';
import { type ImportFormState, untouched } from './form-state';

const mostBytes = 50 * 1024 * 1024;

const file = z.object({
  kind: z.enum(importKinds),
  fileName: plainLine(200, 'The file has no name.'),
  byteCount: z.number().int().min(0).max(mostBytes, 'A file may have 50 MB at most. Part it.'),
});

const refusal = (message: string, mend: string): ImportFormState => ({
  problems: [{ field: 'file', message, mend }],
  said: null,
});

/** Opens an import; the browser sends the file after it, piece by piece. */
export async function beginAction(
  asked: z.input<typeof file>,
): Promise<{ readonly id: string } | ImportFormState> {
  const actor = await requireSignIn('/imports');
  const parsed = file.safeParse(asked);
  if (!parsed.success) {
    return refusal(parsed.error.issues[0]?.message ?? 'The form is not whole.', 'Choose a file.');
  }
  return orDenied(async () => {
    const id = randomUUID();
    await beginImport((await database()).db, actor, { id, ...parsed.data, now: new Date() });
    return { id };
  });
}

const inColumns = (data: FormData, field: string) => String(data.get(`column-${field}`) ?? '');

/** Reads the file with the columns that were chosen, in the background: the page shows how far it is. */
export async function checkAction(_: ImportFormState, data: FormData): Promise<ImportFormState> {
  const actor = await requireSignIn('/imports');
  const importId = z.uuid().safeParse(data.get('importId'));
  return orDenied(async () => {
    const { db } = await database();
    const run = importId.success ? await importRunOf(db, actor, importId.data) : undefined;
    if (!run) return refusal('There is no such import.', 'Load the page again.');
    const fields = importFields[run.kind].filter(({ name }) => inColumns(data, name) !== '');
    const units = fields.flatMap(({ name }) => {
      const unit = data.get(`unit-${name}`);
      return unit ? [[name, unit] as const] : [];
    });
    const mapping = columnMapping.safeParse({
      columns: Object.fromEntries(fields.map(({ name }) => [name, inColumns(data, name)])),
      units: Object.fromEntries(units),
      decimal: data.get('decimal'),
      encoding: data.get('encoding'),
    });
    if (!mapping.success) return refusal('The form is not whole.', 'Load the page again.');
    checkImport(db, actor, { importId: run.id, mapping: mapping.data, now: new Date() }).catch(
      (err) => log.error({ err, importId: run.id }, 'an import could not be checked'),
    );
    refresh();
    return untouched;
  });
}

/** Puts the checked rows on record, or forgets them. */
export async function endAction(_: ImportFormState, data: FormData): Promise<ImportFormState> {
  const actor = await requireSignIn('/imports');
  const importId = z.uuid().safeParse(data.get('importId'));
  if (!importId.success) return refusal('There is no such import.', 'Load the page again.');
  return orDenied(async () => {
    const open = await database();
    const now = new Date();
    refresh();
    if (data.get('act') !== 'apply') {
      const isCancelled = await cancelImport(open.db, actor, importId.data);
      return isCancelled ? untouched : refusal('It is on record already.', 'See the ledger.');
    }
    await beginPut(open, { actor, importId: importId.data, now });
    return untouched;
  });
}

/**
 * Puts an import on record in the background, and its units to the sweep. Returns once it is under way,
 * or has ended: the page shows how far it is, and what was wrong.
 */
function beginPut(
  { db, kind }: OpenDatabase,
  input: { readonly actor: Actor; readonly importId: string; readonly now: Date },
): Promise<void> {
  const { importId, now } = input;
  return new Promise((resolve, reject) => {
    const onProgress = async (progress: PutProgress) => {
      // The embedded database has one connection, which the import is using.
      if (kind === 'server') await notePutProgress(db, importId, progress);
      resolve();
    };
    const put = async () => {
      const applied = await applyImport(db, { ...input, onProgress });
      if (applied.ok) await sweepFleet(db, now, { learns: false });
      else if (applied.error === 'check again') await notePutFault(db, importId, hasChanged);
    };
    put()
      .catch(async (err) => {
        if (err instanceof AccessDenied) return reject(err);
        log.error(
          { err, importId },
          'an import could not be put on record, or its units not judged',
        );
        await notePutFault(db, importId, couldNot);
      })
      .catch((err) => log.error({ err, importId }, 'why it could not is not noted either'))
      .finally(resolve);
  });
}

const hasChanged: Problem = {
  field: 'file',
  message: 'The record has changed since the check. Nothing of the file is on record.',
  mend: 'Check the file again.',
};

const couldNot: Problem = {
  field: 'file',
  message: 'It could not be put on record. Nothing of the file is on record.',
  mend: 'Try again; where that does not help, the log of the server says why.',
};

const orDenied = <Value>(act: () => Promise<Value>) =>
  unlessDenied(act, (why) => refusal(why, 'Ask a fleet manager.'));
