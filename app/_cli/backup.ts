import type { BackupClosing } from '@/db/backup/backup-format';
import { backupLines } from '@/db/backup/backup-lines';
import { backupParts } from '@/db/backup/backup-parts';
import { restoreBackup } from '@/db/backup/restore-backup';
import { connectAsOwner, type OwnerConnection } from '@/db/owner-connection';
import { readBackupFile, writeBackupFile } from './backup-file';

export interface DatabaseAddress {
  readonly url?: string;
  readonly folder: string;
}

/** Writes all that the database holds to a new file. */
export const backup = (from: DatabaseAddress, path: string, now: Date): Promise<BackupClosing> =>
  withOwner(from, (source) => writeBackupFile(path, backupLines(source, now)));

/** Fills an empty database from the file, which is read to its end before anything is touched. */
export async function restore(into: DatabaseAddress, path: string): Promise<BackupClosing> {
  for await (const _ of backupParts(readBackupFile(path)));
  return withOwner(into, (target) => restoreBackup(target, backupParts(readBackupFile(path))));
}

/** Copies one database into another that is empty, and leaves the first as it is. */
export const move = (
  from: DatabaseAddress,
  into: DatabaseAddress,
  now: Date,
): Promise<BackupClosing> =>
  withOwner(from, (source) =>
    withOwner(into, (target) => restoreBackup(target, backupParts(backupLines(source, now)))),
  );

async function withOwner<Value>(
  at: DatabaseAddress,
  use: (connection: OwnerConnection) => Promise<Value>,
): Promise<Value> {
  const connection = await connectAsOwner(at);
  try {
    return await use(connection);
  } finally {
    await connection.close();
  }
}

/** What was carried over, for a person to compare. */
export function told({ rows, ledger }: BackupClosing): string {
  const counts = Object.entries(rows)
    .filter(([, count]) => count > 0)
    .map(([table, count]) => `${String(count).padStart(10)}  ${table}`);
  const chain =
    ledger.faults === 0
      ? `Ledger unbroken: ${ledger.entries} entries, head ${ledger.head ?? 'none'}`
      : `Ledger BROKEN, and kept as it was: ${ledger.faults} faults in ${ledger.entries} entries`;
  return [...counts, chain].join('\n');
}
