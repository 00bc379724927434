import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { z } from 'zod';

export const migrationsFolder = join(process.cwd(), 'db', 'migrations');

const journal = z.looseObject({ entries: z.array(z.looseObject({ tag: z.string() })) });

const readJournal = (folder: string) =>
  journal.parse(JSON.parse(readFileSync(join(folder, 'meta', '_journal.json'), 'utf8')));

/** Names of the migrations that this version of the product knows, in their order. */
export const migrationTags = (): readonly string[] =>
  readJournal(migrationsFolder).entries.map(({ tag }) => tag);

/** Lends a folder with the first `count` migrations: the schema as an older version had it. */
export async function withFirstMigrations<Value>(
  count: number,
  use: (folder: string) => Promise<Value>,
): Promise<Value> {
  const folder = mkdtempSync(join(tmpdir(), 'idlemark-migrations-'));
  try {
    cpSync(migrationsFolder, folder, { recursive: true });
    const known = readJournal(folder);
    const first = { ...known, entries: known.entries.slice(0, count) };
    writeFileSync(join(folder, 'meta', '_journal.json'), JSON.stringify(first));
    return await use(folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
