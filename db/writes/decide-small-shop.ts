import { type Actor, requirePermission } from '@/lib/access';
import { type Result, success } from '@/lib/result';
import type { Db } from '../client';
import { appendToLedger } from '../ledger';
import { type SmallShop, smallShopName } from '../reads/small-shop';
import { keepDecided, lockProposed, type Undecidable } from '../record/proposed-setting';
import { inTransaction } from '../transaction';

interface DecideSmallShop {
  readonly actor: Actor;
  readonly isApproved: boolean;
  readonly now: Date;
}

/** Approves or refuses what an administrator proposed; nobody decides an own proposal. */
export async function decideSmallShop(
  db: Db,
  { actor, isApproved, now }: DecideSmallShop,
): Promise<Result<null, Undecidable>> {
  requirePermission(actor, 'approve limits');
  return inTransaction(db, async (tx) => {
    const found = await lockProposed<SmallShop>(tx, smallShopName, actor);
    if (!found.ok) return found;
    const before = found.value;
    const isOn = isApproved ? before.proposed.isOn : before.isOn;
    const value: SmallShop = { isOn, proposed: null };
    await keepDecided(tx, { name: smallShopName, value, actor, now });
    await appendToLedger(tx, {
      kind: isApproved ? 'small shop approved' : 'small shop refused',
      actor,
      now,
      payload: { isOn, proposedBy: before.proposed.by },
    });
    return success(null);
  });
}
