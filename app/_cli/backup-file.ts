import { once } from 'node:events';
import { createReadStream, createWriteStream } from 'node:fs';
import { link, rm } from 'node:fs/promises';
import { finished, pipeline } from 'node:stream/promises';
import { createGunzip, createGzip } from 'node:zlib';
import { UnfitBackup } from '@/db/backup/backup-format';

/** Writes a backup whole or not at all. It holds personal data and password digests: its owner alone reads it. */
export async function writeBackupFile<Closing>(
  path: string,
  lines: AsyncGenerator<string, Closing>,
): Promise<Closing> {
  const part = `${path}.part`;
  const gzip = createGzip();
  const written = pipeline(gzip, createWriteStream(part, { flags: 'wx', mode: 0o600 }));
  written.catch(() => gzip.destroy());
  try {
    for (;;) {
      const next = await lines.next();
      if (next.done) {
        gzip.end();
        await written;
        // A link, unlike a rename, refuses to take the place of a file that is there.
        await link(part, path);
        return next.value;
      }
      if (!gzip.write(`${next.value}\n`)) await Promise.race([once(gzip, 'drain'), written]);
    }
  } finally {
    gzip.destroy();
    await finished(gzip, { error: false }).catch(() => {});
    await lines.return(undefined as never);
    await rm(part, { force: true });
  }
}

/** The lines of a backup file. */
export async function* readBackupFile(path: string): AsyncGenerator<string> {
  let rest = '';
  const gunzip = createGunzip();
  const read = pipeline(createReadStream(path), gunzip);
  read.catch(() => {});
  try {
    gunzip.setEncoding('utf8');
    for await (const text of gunzip as AsyncIterable<string>) {
      const lines = (rest + text).split('\n');
      rest = lines.pop() ?? '';
      yield* lines;
    }
    await read;
  } catch (error) {
    throw whyUnreadable(path, error);
  }
  if (rest !== '') yield rest;
}

function whyUnreadable(path: string, error: unknown): unknown {
  const code = error instanceof Error && 'code' in error ? error.code : null;
  switch (code) {
    case 'ENOENT':
      return new UnfitBackup(`${path}: there is no such file.`);
    case 'EISDIR':
      return new UnfitBackup(`${path}: this is a folder.`);
    case 'EACCES':
      return new UnfitBackup(`${path}: it may not be read.`);
    case 'Z_BUF_ERROR':
      return new UnfitBackup(`${path}: the backup is cut short. Nothing was restored.`);
    case 'Z_DATA_ERROR':
      return new UnfitBackup(
        `${path}: this is no backup, or it is no longer as it was written. Nothing was restored.`,
      );
    default:
      return error;
  }
}
