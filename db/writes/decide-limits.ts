import { eq } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import { failure, type Result, success } from '@/lib/result';
import type { Db } from '../client';
import { appendToLedger } from '../ledger';
import { limitSet } from '../schema';
import { inTransaction } from '../transaction';

export type LimitsRefusal = 'no such proposal' | 'your own proposal';

interface DecideLimits {
  readonly actor: Actor;
  readonly version: number;
  readonly isApproved: boolean;
  readonly now: Date;
}

/** Approves or refuses a set that another person proposed. The fleet is judged anew after it. */
export async function decideLimits(
  db: Db,
  { actor, version, isApproved, now }: DecideLimits,
): Promise<Result<null, LimitsRefusal>> {
  requirePermission(actor, 'approve limits');
  return inTransaction(db, async (tx): Promise<Result<null, LimitsRefusal>> => {
    const [proposed] = await tx
      .select()
      .from(limitSet)
      .where(eq(limitSet.version, version))
      .for('update');
    if (proposed?.state !== 'proposed') return failure('no such proposal');
    if (proposed.proposedBy === actor.personId) return failure('your own proposal');
    const state = isApproved ? 'approved' : 'refused';
    await tx
      .update(limitSet)
      .set({ state, decidedBy: actor.personId, decidedAt: now })
      .where(eq(limitSet.version, version));
    await appendToLedger(tx, {
      kind: `limits ${state}`,
      actor,
      now,
      payload: { version, proposedBy: proposed.proposedBy },
    });
    return success(null);
  });
}
