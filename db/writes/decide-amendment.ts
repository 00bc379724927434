import { eq } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import { failure, type Result, success } from '@/lib/result';
import type { Db } from '../client';
import { appendToLedger } from '../ledger';
import { applyAmendment } from '../record/apply-amendment';
import { amendment, reading } from '../schema';
import { inTransaction, lockUnit } from '../transaction';

export type AmendmentRefusal = 'no such amendment' | 'decided already' | 'your own amendment';

interface DecideAmendment {
  readonly actor: Actor;
  readonly amendmentId: string;
  readonly isApproved: boolean;
  readonly now: Date;
}

/** Approves or refuses an amendment that another person made. */
export async function decideAmendment(
  db: Db,
  { actor, amendmentId, isApproved, now }: DecideAmendment,
): Promise<Result<null, AmendmentRefusal>> {
  requirePermission(actor, 'approve an amendment');
  return inTransaction(db, async (tx): Promise<Result<null, AmendmentRefusal>> => {
    const [found] = await tx
      .select({ reading })
      .from(amendment)
      .innerJoin(reading, eq(reading.id, amendment.readingId))
      .where(eq(amendment.id, amendmentId));
    if (!found) return failure('no such amendment');
    await lockUnit(tx, found.reading.unitId);
    const [asked] = await tx.select().from(amendment).where(eq(amendment.id, amendmentId));
    if (asked?.state !== 'asked') return failure('decided already');
    if (asked.madeBy === actor.personId) return failure('your own amendment');
    if (isApproved) {
      await applyAmendment(tx, { amendment: asked, of: found.reading, actor, now });
      return success(null);
    }
    await tx
      .update(amendment)
      .set({ state: 'refused', decidedBy: actor.personId, decidedAt: now })
      .where(eq(amendment.id, amendmentId));
    await appendToLedger(tx, {
      kind: 'amendment refused',
      actor,
      now,
      unitId: found.reading.unitId,
      payload: { amendmentId, readingId: found.reading.id, madeBy: asked.madeBy },
    });
    return success(null);
  });
}
