import { type Actor, requirePermission } from '@/lib/access';
import { type Result, success } from '@/lib/result';
import type { Db } from '../client';
import { appendToLedger } from '../ledger';
import { type Retention, retentionName } from '../reads/retention';
import { keepDecided, lockProposed, type Undecidable } from '../record/proposed-setting';
import { inTransaction } from '../transaction';

interface DecideRetention {
  readonly actor: Actor;
  readonly isApproved: boolean;
  readonly now: Date;
}

/** Approves or refuses a proposed policy; nobody decides an own proposal. Nothing is purged by it. */
export async function decideRetention(
  db: Db,
  { actor, isApproved, now }: DecideRetention,
): Promise<Result<null, Undecidable>> {
  requirePermission(actor, 'approve limits');
  return inTransaction(db, async (tx) => {
    const found = await lockProposed<Retention>(tx, retentionName, actor);
    if (!found.ok) return found;
    const before = found.value;
    const { policy: asked, by } = before.proposed;
    const policy = isApproved ? asked : before.policy;
    const value: Retention = { policy, proposed: null };
    await keepDecided(tx, { name: retentionName, value, actor, now });
    await appendToLedger(tx, {
      kind: isApproved ? 'retention approved' : 'retention refused',
      actor,
      now,
      payload: { policy: { ...asked }, proposedBy: by },
    });
    return success(null);
  });
}
