import { z } from 'zod';

/**
 * A backup is lines of text, compressed as one gzip file: a header; for each table its name, then a
 * row a line as PostgreSQL writes it; a closing line with the counts, and the digest of all before it.
 */
export const backupHeader = z.strictObject({
  format: z.literal('idlemark backup'),
  version: z.literal(1),
  takenAt: z.iso.datetime(),
  /** Schema that the rows fit: a restore goes there first, and on to the newest from there. */
  migrations: z.array(z.string()).min(1),
});
export type BackupHeader = z.infer<typeof backupHeader>;

export const backupTable = z.strictObject({ table: z.string().regex(/^[a-z_]+$/) });

const ledgerState = z.strictObject({
  entries: z.number().int().min(0),
  head: z.string().length(64).nullable(),
  /** Not nought where the chain was broken already when the backup was taken. */
  faults: z.number().int().min(0),
});
export type LedgerState = z.infer<typeof ledgerState>;

export const backupClosing = z.strictObject({
  rows: z.record(z.string(), z.number().int().min(0)),
  sequences: z.record(
    z.string().regex(/^[a-z_]+$/),
    z.strictObject({ last: z.string().regex(/^\d+$/), isCalled: z.boolean() }),
  ),
  ledger: ledgerState,
  digest: z.string().length(64),
});
export type BackupClosing = z.infer<typeof backupClosing>;

/** State of sign-in alone: whoever restores, or moves to another server, signs in anew. */
export const tablesLeftOut: ReadonlySet<string> = new Set([
  'session',
  'verification',
  'rate_limit',
]);

/** The file cannot be restored from; the message says why. */
export class UnfitBackup extends Error {}
