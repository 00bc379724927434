import { eq } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import { failure, type Result, success } from '@/lib/result';
import type { Db } from '../client';
import { appendToLedger, holdingLedger } from '../ledger';
import { standDownPreview } from '../reads/stand-down-preview';
import { judgeBulletinMarks } from '../record/judge-bulletin-marks';
import { bulletin } from '../schema';
import { inTransaction, lockFleet } from '../transaction';

export type ApprovalRefusal =
  | 'no such bulletin'
  | 'not a do-not-drive bulletin'
  | 'approved already'
  | 'superseded'
  | 'your own entry'
  | 'changed since the preview';

interface ApproveBulletin {
  readonly actor: Actor;
  readonly bulletinId: string;
  /** Digest of the units that the preview named: others are not stood down unseen. */
  readonly seenDigest: string;
  readonly now: Date;
}

/** Approves a do-not-drive bulletin that another person entered, and stands down what it is owed on. */
export async function approveBulletin(
  db: Db,
  { actor, bulletinId, seenDigest, now }: ApproveBulletin,
): Promise<Result<{ readonly stoodDown: number }, ApprovalRefusal>> {
  requirePermission(actor, 'approve a do-not-drive bulletin');
  return inTransaction(db, async (tx) => {
    await lockFleet(tx);
    const [row] = await tx.select().from(bulletin).where(eq(bulletin.id, bulletinId)).for('update');
    if (!row) return failure('no such bulletin' as const);
    if (row.kind !== 'do not drive until done') {
      return failure('not a do-not-drive bulletin' as const);
    }
    if (row.approvedAt !== null) return failure('approved already' as const);
    if (row.enteredBy === actor.personId) return failure('your own entry' as const);
    const [later] = await tx
      .select({ id: bulletin.id })
      .from(bulletin)
      .where(eq(bulletin.supersedesId, row.id));
    if (later) return failure('superseded' as const);
    const { standDown, undecided, digest } = await standDownPreview(tx, actor, row.id);
    if (digest !== seenDigest) return failure('changed since the preview' as const);
    await tx
      .update(bulletin)
      .set({ approvedBy: actor.personId, approvedAt: now })
      .where(eq(bulletin.id, row.id));
    await appendToLedger(tx, {
      kind: 'do-not-drive bulletin approved',
      actor,
      now,
      payload: {
        number: row.number,
        issue: row.issue,
        enteredBy: row.enteredBy,
        standDown: [...standDown],
        undecided: [...undecided],
      },
    });
    const because = `do-not-drive bulletin ${row.number} approved`;
    // A spell and its entry for each unit: the entries of many are written together.
    await holdingLedger(tx, () =>
      judgeBulletinMarks(tx, { unitIds: standDown, actor, now, because }),
    );
    return success({ stoodDown: standDown.length });
  });
}
