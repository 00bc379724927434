import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { PGlite } from '@electric-sql/pglite';
import { drizzle } from 'drizzle-orm/pglite';
import { migrate } from 'drizzle-orm/pglite/migrator';
import type { TestProject } from 'vitest/node';
import { migrationsFolder } from '../../db/migrations-in-order';

declare module 'vitest' {
  interface ProvidedContext {
    /** File with a migrated embedded database, as PGlite dumps it. */
    embeddedTemplate: string;
  }
}

/** Makes the embedded database once for all files: making and migrating it takes longer than most of them. */
export default async function setup(project: TestProject): Promise<() => void> {
  const folder = mkdtempSync(join(tmpdir(), 'idlemark-template-'));
  const file = join(folder, 'database.tar');
  const client = await PGlite.create('memory://');
  await migrate(drizzle(client), { migrationsFolder });
  writeFileSync(file, Buffer.from(await (await client.dumpDataDir('none')).arrayBuffer()));
  await client.close();
  project.provide('embeddedTemplate', file);
  return () => rmSync(folder, { recursive: true, force: true });
}
