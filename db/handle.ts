import { type OpenDatabase, openDatabase } from './client';

// The bundler loads this module more than once in a process: one handle for all of them.
const key = Symbol.for('idlemark.database');
const store = globalThis as { [key]?: Promise<OpenDatabase> };

/** The process's one database, opened on first use. */
export function database(): Promise<OpenDatabase> {
  if (process.env.NEXT_PHASE === 'phase-production-build') {
    throw new Error('The database is not opened while building.');
  }
  store[key] ??= openDatabase({
    url: process.env.DATABASE_URL,
    folder: process.env.IDLEMARK_DATA ?? '.data/database',
  }).catch((error) => {
    store[key] = undefined;
    throw error;
  });
  return store[key];
}

export async function closeDatabase(): Promise<void> {
  const open = store[key];
  store[key] = undefined;
  await (await open)?.close();
}
