'use server';

import { z } from 'zod';
import { requireSignIn } from '@/app/_session';
import { sweepAfterwards } from '@/app/_sweep-afterwards';
import { counted } from '@/app/_ui/format';
import { database } from '@/db/handle';
import { bulletinColumnsFor, rememberBulletinColumns } from '@/db/imports/remembered-mapping';
import { importBulletins } from '@/db/writes/import-bulletins';
import { AccessDenied } from '@/lib/access';
import type { ColumnsHeld } from '@/lib/intake/bulletin-columns';
import type { Problem } from '@/lib/result';
import { bulletinsOfTable, bulletinTable } from './bulletin-file';

export interface ImportState {
  readonly problems: readonly Problem[];
  readonly said: string | null;
  /** The file as it was read last, to be read with other columns or imported. */
  readonly tried: TriedFile | null;
  /** Nothing of it was wrong and some of it is new. */
  readonly isReady: boolean;
}

interface TriedFile {
  readonly name: string;
  readonly base64: string;
  readonly header: readonly string[];
  readonly held: ColumnsHeld;
  readonly isRemembered: boolean;
}

const mostBytes = 500_000;
const refused = (message: string, mend: string): ImportState => ({
  problems: [{ field: 'file', message, mend }],
  said: null,
  tried: null,
  isReady: false,
});

interface Sent {
  readonly name: string;
  readonly bytes: Uint8Array;
  /** What was said of its columns, where it was read before. */
  readonly held: ColumnsHeld | null;
}

/** The file just chosen, or that of the step before with what was said of its columns. */
async function sentFile(data: FormData): Promise<Sent | null> {
  const file = data.get('file');
  const isImport = data.get('step') === 'import';
  // A field left empty sends a file of no bytes, under a name of the browser's own.
  if (!isImport && file instanceof File && file.size > 0) {
    const name = file.name.slice(0, 100);
    return { name, bytes: new Uint8Array(await file.arrayBuffer()), held: null };
  }
  const before = String(data.get('tried') ?? '');
  if (before === '') return null;
  // What is imported was tried with the same columns, whatever was chosen since.
  const held = isImport ? triedColumns(data) : data.getAll('column').map(String);
  const name = String(data.get('name') ?? '').slice(0, 100);
  return { name, bytes: new Uint8Array(Buffer.from(before, 'base64')), held };
}

const triedColumns = (data: FormData): ColumnsHeld =>
  z.array(z.string()).parse(JSON.parse(String(data.get('tried-columns'))));

/** A file that was chosen is tried and nothing kept; the same file, sent back, is imported. */
export async function importAction(_: ImportState, data: FormData): Promise<ImportState> {
  const actor = await requireSignIn('/effectivity/import');
  const sent = await sentFile(data);
  if (!sent) return refused('No file is chosen, or it is empty.', 'Choose a CSV file.');
  if (sent.bytes.length > mostBytes) return refused('It is over 500 kB.', 'Import it in parts.');
  const table = bulletinTable(sent.bytes);
  if (!table.ok) return { problems: table.error, said: null, tried: null, isReady: false };
  const { db } = await database();
  const now = new Date();
  const { header } = table.value;
  const columns = sent.held
    ? { held: sent.held, isRemembered: false }
    : await bulletinColumnsFor(db, header);
  const base64 = Buffer.from(sent.bytes).toString('base64');
  const tried = { name: sent.name, base64, header, ...columns };
  const answer = (problems: readonly Problem[], said: string | null, isReady = false) => ({
    ...{ problems, said, tried, isReady },
  });
  const read = bulletinsOfTable(table.value, columns.held);
  if (!read.ok) return answer(read.error, null);
  const isDryRun = data.get('step') !== 'import';
  try {
    const done = await importBulletins(db, { actor, bulletins: read.value, isDryRun, now });
    if (!done.ok) return answer(done.error, null);
    await rememberBulletinColumns(db, header, columns.held, now);
    const { entered, unchanged, unitsCovered, toJudge } = done.value;
    const words = `${counted(entered, 'bulletin', 'bulletins')} ${isDryRun ? 'would be entered' : 'entered'}, ${unchanged} on record already; ${counted(unitsCovered, 'unit', 'units')} ${isDryRun ? 'would be under them' : 'under them'}, or undecided.`;
    if (isDryRun) return answer([], words, entered > 0);
    if (toJudge > 0) sweepAfterwards('bulletins were imported');
    const left = toJudge > 0 ? ` ${toJudge} units are being judged.` : '';
    return { problems: [], said: words + left, tried: null, isReady: false };
  } catch (error) {
    if (!(error instanceof AccessDenied)) throw error;
    return refused(`${error.message}.`, 'Ask a fleet manager.');
  }
}
