import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';

const head = z.object({ entry: z.number().int().positive(), hash: z.string().length(64) });
export type LedgerHead = z.infer<typeof head>;

/** The newest head kept in the folder, or null where none is. Throws on a file that is no head. */
export function newestHead(folder: string): LedgerHead | null {
  let names: string[];
  try {
    names = readdirSync(folder);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return null;
    throw error;
  }
  const newest = names
    .filter((name) => /^\d{4}-\d{2}-\d{2}\.json$/.test(name))
    .sort()
    .at(-1);
  return newest ? head.parse(JSON.parse(readFileSync(join(folder, newest), 'utf8'))) : null;
}

/** Keeps the head of a UTC day. The first of a day stays: a later one could follow an attack. */
export function keepHead(folder: string, kept: LedgerHead, now: Date): void {
  mkdirSync(folder, { recursive: true });
  const path = join(folder, `${now.toISOString().slice(0, 10)}.json`);
  try {
    writeFileSync(path, `${JSON.stringify(kept)}\n`, { flag: 'wx' });
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
  }
}
