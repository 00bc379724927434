import { and, asc, desc, eq, gt, inArray, lt, sql } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import type { ImportKind } from '@/lib/intake/import/import-fields';
import type { Db, Tx } from '../client';
import { importPiece, importReading, importRow, importRun } from '../schema';
import { inTransaction } from '../transaction';

export type ImportRun = typeof importRun.$inferSelect;

export interface BeginImport {
  readonly id: string;
  readonly kind: ImportKind;
  readonly fileName: string;
  readonly byteCount: number;
  readonly now: Date;
}

/** Opens an import whose file is about to be sent. Nothing of it is on record until it is applied. */
export async function beginImport(db: Db, actor: Actor, begin: BeginImport): Promise<void> {
  requirePermission(actor, 'import');
  const { now, ...file } = begin;
  await db.insert(importRun).values({
    ...file,
    state: 'sending',
    madeBy: actor.personId,
    madeAt: now,
    progressAt: now,
  });
}

/** Keeps one piece of the file; a piece sent again takes the place of the first. */
export async function keepPiece(
  db: Db,
  actor: Actor,
  { importId, position, bytes }: { importId: string; position: number; bytes: Uint8Array },
): Promise<boolean> {
  requirePermission(actor, 'import');
  return inTransaction(db, async (tx) => {
    const [run] = await tx.select().from(importRun).where(eq(importRun.id, importId)).for('share');
    if (run?.state !== 'sending' || run.madeBy !== actor.personId) return false;
    await tx
      .insert(importPiece)
      .values({ importId, position, bytes })
      .onConflictDoUpdate({
        target: [importPiece.importId, importPiece.position],
        set: { bytes },
      });
    return true;
  });
}

/** The file as it was sent, a piece at a time; the next one is on its way while one is read. */
export async function* piecesOf(db: Db | Tx, importId: string): AsyncGenerator<Uint8Array> {
  let coming = pieceAfter(db, importId, -1);
  for (let piece = await coming; piece; piece = await coming) {
    coming = pieceAfter(db, importId, piece.position);
    // Whoever asks for the next one meets its failure; one that nobody asks for has none.
    coming.catch(() => {});
    yield piece.bytes;
  }
}

async function pieceAfter(db: Db | Tx, importId: string, position: number) {
  const [piece] = await db
    .select()
    .from(importPiece)
    .where(and(eq(importPiece.importId, importId), gt(importPiece.position, position)))
    .orderBy(asc(importPiece.position))
    .limit(1);
  return piece;
}

/** Ends an import that is not on record, and forgets its file. False where it is on record, or gone. */
export async function cancelImport(db: Db, actor: Actor, importId: string): Promise<boolean> {
  requirePermission(actor, 'import');
  return inTransaction(db, async (tx) => {
    const cancelled = await tx
      .update(importRun)
      .set({ state: 'cancelled' })
      .where(
        and(
          eq(importRun.id, importId),
          inArray(importRun.state, ['sending', 'checking', 'checked']),
        ),
      )
      .returning({ id: importRun.id });
    await forgetFile(tx, cancelled);
    return cancelled.length > 0;
  });
}

async function forgetFile(tx: Tx, runs: readonly { readonly id: string }[]): Promise<void> {
  const ids = runs.map(({ id }) => id);
  if (ids.length === 0) return;
  await tx.delete(importPiece).where(inArray(importPiece.importId, ids));
  await forgetRows(tx, ids);
}

/** Forgets what a check found of the rows. */
export async function forgetRows(db: Db | Tx, importIds: string[]): Promise<void> {
  await db.delete(importRow).where(inArray(importRow.importId, importIds));
  await db.delete(importReading).where(inArray(importReading.importId, importIds));
}

const forgottenAfterMs = 7 * 86_400_000;

/** Cancels what nobody has gone on with for a week. Returns how many. */
export async function forgetOldImports(db: Db, now: Date): Promise<number> {
  return inTransaction(db, async (tx) => {
    const old = await tx
      .update(importRun)
      .set({ state: 'cancelled' })
      .where(
        and(
          inArray(importRun.state, ['sending', 'checking', 'checked']),
          lt(importRun.progressAt, new Date(now.getTime() - forgottenAfterMs)),
        ),
      )
      .returning({ id: importRun.id });
    await forgetFile(tx, old);
    return old.length;
  });
}

export async function importRunOf(
  db: Db,
  actor: Actor,
  importId: string,
): Promise<ImportRun | undefined> {
  requirePermission(actor, 'import');
  const [run] = await db.select().from(importRun).where(eq(importRun.id, importId));
  return run;
}

export async function recentImports(db: Db, actor: Actor): Promise<readonly ImportRun[]> {
  requirePermission(actor, 'import');
  return db.select().from(importRun).orderBy(desc(importRun.madeAt)).limit(50);
}

/** Bytes of the file that have arrived. */
export async function bytesKept(db: Db | Tx, importId: string): Promise<number> {
  const [row] = await db
    .select({ bytes: sql<number>`coalesce(sum(length(${importPiece.bytes})), 0)::int` })
    .from(importPiece)
    .where(eq(importPiece.importId, importId));
  return row?.bytes ?? 0;
}
