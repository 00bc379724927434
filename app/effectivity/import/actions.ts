'use server';

import { requireSignIn } from '@/app/_session';
import { database } from '@/db/handle';
import { importBulletins } from '@/db/writes/import-bulletins';
import { AccessDenied } from '@/lib/access';
import type { Problem } from '@/lib/result';
import { bulletinFile } from './bulletin-file';

export interface ImportState {
  readonly problems: readonly Problem[];
  readonly said: string | null;
  /** The file as it was tried, to be imported by the second step. */
  readonly tried: { readonly name: string; readonly base64: string } | null;
}

const mostBytes = 500_000;
const refused = (message: string, mend: string): ImportState => ({
  problems: [{ field: 'file', message, mend }],
  said: null,
  tried: null,
});

/** A file that was chosen is tried and nothing kept; the same file, sent back, is imported. */
export async function importAction(_: ImportState, data: FormData): Promise<ImportState> {
  const actor = await requireSignIn('/effectivity/import');
  const file = data.get('file');
  const isDryRun = data.get('step') !== 'import';
  if (isDryRun && (!(file instanceof File) || file.name === '')) {
    return refused('No file is chosen.', 'Choose a CSV file.');
  }
  const bytes =
    isDryRun && file instanceof File
      ? new Uint8Array(await file.arrayBuffer())
      : new Uint8Array(Buffer.from(String(data.get('tried') ?? ''), 'base64'));
  if (bytes.length > mostBytes) return refused('It is over 500 kB.', 'Import it in parts.');
  const read = bulletinFile(bytes);
  if (!read.ok) return { problems: read.error, said: null, tried: null };
  const { db } = await database();
  const now = new Date();
  try {
    const input = { actor, bulletins: read.value, isDryRun, now };
    const done = await importBulletins(db, input);
    if (!done.ok) return { problems: done.error, said: null, tried: null };
    const { entered, unchanged, unitsCovered } = done.value;
    const words = `${entered} bulletins ${isDryRun ? 'would be entered' : 'entered'}, ${unchanged} on record already; ${unitsCovered} units ${isDryRun ? 'would be' : 'are'} under them, or undecided.`;
    if (!isDryRun) return { problems: [], said: words, tried: null };
    const name = file instanceof File ? file.name.slice(0, 100) : '';
    const tried = { name, base64: Buffer.from(bytes).toString('base64') };
    return { problems: [], said: words, tried: entered > 0 ? tried : null };
  } catch (error) {
    if (!(error instanceof AccessDenied)) throw error;
    return refused(`${error.message}.`, 'Ask a fleet manager.');
  }
}
