import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';
import type { LedgerHead } from '@/db/ledger';

const head = z.object({ entry: z.number().int().positive(), hash: z.string().length(64) });

const nameOf = (now: Date): string => `${now.toISOString().slice(0, 10)}.json`;

export interface KeptHeads {
  /** Oldest first. */
  readonly heads: readonly LedgerHead[];
  /** Files that bear a day's name and hold no head: somebody or something spoilt them. */
  readonly spoilt: readonly string[];
}

/** Every head kept in the folder; none where there is no such folder. */
export function keptHeads(folder: string): KeptHeads {
  const heads: LedgerHead[] = [];
  const spoilt: string[] = [];
  for (const name of namesIn(folder)) {
    const read = readHead(join(folder, name));
    if (read) heads.push(read);
    else spoilt.push(name);
  }
  return { heads, spoilt };
}

export const isHeadKept = (folder: string, now: Date): boolean =>
  namesIn(folder).includes(nameOf(now));

/** Keeps the head of a UTC day. The first of a day stays: a later one could follow an attack. */
export function keepHead(folder: string, kept: LedgerHead, now: Date): void {
  mkdirSync(folder, { recursive: true });
  const line = `${JSON.stringify({ ...kept, keptAt: now.toISOString() })}\n`;
  try {
    writeFileSync(join(folder, nameOf(now)), line, { flag: 'wx' });
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
  }
}

function namesIn(folder: string): string[] {
  try {
    return readdirSync(folder)
      .filter((name) => /^\d{4}-\d{2}-\d{2}\.json$/.test(name))
      .sort();
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return [];
    throw error;
  }
}

function readHead(path: string): LedgerHead | null {
  const text = readFileSync(path, 'utf8');
  try {
    return head.parse(JSON.parse(text));
  } catch {
    return null;
  }
}
