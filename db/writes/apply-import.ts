import { and, eq, inArray, isNull, sql } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import { failure, type Result, success } from '@/lib/result';
import type { Db } from '../client';
import { holdWhilePut } from '../imports/being-put';
import type { CheckUnderWay } from '../imports/staged-lines';
import { appendToLedgerAtOnce } from '../ledger';
import { leaveToSweep, lockImportedUnits, noteImportedParts } from '../record/judge-imported';
import { putImported } from '../record/put-imported';
import {
  type ImportCounts,
  importPiece,
  importReading,
  importRow,
  importRun,
  type PutProgress,
} from '../schema';
import { inTransaction, sqlState } from '../transaction';

export interface AppliedImport {
  readonly counts: ImportCounts;
  readonly entry: number;
}

/** `check again`: what is on record has changed since the check, so that a row no longer fits. */
export type ApplyRefusal = 'no such import' | 'not checked' | 'check again';

const uniqueViolation = '23505';
const foreignKeyViolation = '23503';

/** It was cancelled, or is being checked again, while it was put on record: all of it is undone. */
class CalledBack extends Error {}

/** Not all of what the check staged is still there. */
class RowsLost extends Error {}

interface ApplyImport {
  readonly actor: Actor;
  readonly importId: string;
  readonly now: Date;
  /** Told how far it is, from within the transaction, so that what it writes must go another way. */
  readonly onProgress?: (progress: PutProgress) => Promise<void> | void;
  /** Readings go on record as their check stages them; commits once that has ended well. */
  readonly underWay?: CheckUnderWay;
}

type Run = typeof importRun.$inferSelect;

/** Whether it may be put on record now, or go on being so. */
const isToBePut = ({ state }: Run, underWay: CheckUnderWay | undefined): boolean =>
  state === 'checked' || (underWay !== undefined && (state === 'sending' || state === 'checking'));

const rowsToPut = (counts: ImportCounts): number => counts.new + counts.changed;

/**
 * Puts a checked import on record: all of it or nothing, as one ledger entry with the digest of its
 * rows. Its units and their bulletins are judged by the sweep; no import opens or ends a spell by itself.
 * Until the end it can be cancelled, for which its row is left unlocked.
 */
export async function applyImport(
  db: Db,
  { actor, importId, now, onProgress, underWay }: ApplyImport,
): Promise<Result<AppliedImport, ApplyRefusal>> {
  requirePermission(actor, 'import');
  try {
    return await inTransaction(db, async (tx) => {
      await tx.execute(sql`set local statement_timeout = '15min'`);
      const isAlone = await holdWhilePut(tx, importId);
      const runs = () => tx.select().from(importRun).where(eq(importRun.id, importId));
      const [begun] = await runs();
      if (!begun) return failure('no such import' as const);
      if (!isAlone) return failure('not checked' as const);
      const report = async (done: number): Promise<Run> => {
        const [run] = await runs();
        if (!run || !isToBePut(run, underWay)) throw new CalledBack();
        if (run.counts) await onProgress?.({ done, total: rowsToPut(run.counts) });
        return run;
      };
      const { kind } = begun;
      const imported = { importId, kind, now };
      await report(0);
      await lockImportedUnits(tx, imported);
      const put = await putImported[kind](tx, { importId, actor, now, report, underWay });
      const { counts, mapping, rowsDigest, fileName } = await report(put);
      if (!counts || !mapping || !rowsDigest) throw new CalledBack();
      // The staged rows are unlogged: a server that crashed since has lost them.
      if (put !== rowsToPut(counts)) throw new RowsLost();
      // Nobody has asked for an entry that says that nothing was done.
      if (underWay && put === 0) throw new CalledBack();
      await leaveToSweep(tx, imported);
      const rows = and(
        eq(importRow.importId, importId),
        inArray(importRow.outcome, ['new', 'changed']),
      );
      // What takes long comes before the ledger, which all writers wait for.
      await tx.delete(importReading).where(eq(importReading.importId, importId));
      await tx.delete(importPiece).where(eq(importPiece.importId, importId));
      const { entry } = await appendToLedgerAtOnce(tx, {
        kind: 'rows imported',
        actor,
        now,
        payload: {
          kind,
          file: fileName,
          counts: { ...counts },
          rowsDigest,
          columns: mapping.columns,
          units: mapping.units,
        },
      });
      await noteImportedParts(tx, imported, actor);
      // Odd rows stay listed beside the refused ones, though they are on record.
      await tx.delete(importRow).where(and(rows, isNull(importRow.problems)));
      const [done] = await tx
        .update(importRun)
        .set({ state: 'done', ledgerEntry: entry, progressAt: now, putProgress: null })
        .where(and(eq(importRun.id, importId), eq(importRun.state, 'checked')))
        .returning({ id: importRun.id });
      if (!done) throw new CalledBack();
      return success({ counts, entry });
    });
  } catch (error) {
    if (error instanceof CalledBack) return failure('not checked');
    if (error instanceof RowsLost) return failure('check again');
    const state = sqlState(error);
    if (state === uniqueViolation || state === foreignKeyViolation) return failure('check again');
    throw error;
  }
}
