import { closeSync, mkdirSync, openSync, readFileSync, rmSync, writeSync } from 'node:fs';
import { join } from 'node:path';

/** The embedded database takes no lock of its own, and two processes on one folder lose rows. */
export function holdFolder(folder: string): () => void {
  mkdirSync(folder, { recursive: true });
  const path = join(folder, '..', `${folder.split(/[\\/]/).at(-1)}.lock`);
  for (let attempt = 0; attempt < 2; attempt++) {
    try {
      const file = openSync(path, 'wx');
      writeSync(file, String(process.pid));
      closeSync(file);
      return () => rmSync(path, { force: true });
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
      const holder = Number(readFileSync(path, 'utf8'));
      if (holder !== process.pid && isRunning(holder)) {
        throw new Error(
          `The embedded database in ${folder} is held by process ${holder}. Stop it, or set DATABASE_URL to a PostgreSQL server.`,
        );
      }
      rmSync(path, { force: true });
    }
  }
  throw new Error(`The lock ${path} cannot be taken. Remove it if no process uses the database.`);
}

function isRunning(pid: number): boolean {
  if (!Number.isInteger(pid) || pid <= 0) return false;
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
}
