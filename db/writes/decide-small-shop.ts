import { eq } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import { failure, type Result, success } from '@/lib/result';
import type { Db } from '../client';
import { appendToLedger } from '../ledger';
import { type SmallShop, smallShopName } from '../reads/small-shop';
import { setting } from '../schema';
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
): Promise<Result<null, 'no such proposal' | 'your own proposal'>> {
  requirePermission(actor, 'approve limits');
  return inTransaction(db, async (tx) => {
    const [row] = await tx
      .select()
      .from(setting)
      .where(eq(setting.name, smallShopName))
      .for('update');
    const before = row?.value as SmallShop | undefined;
    if (!before?.proposed) return failure('no such proposal' as const);
    if (before.proposed.by === actor.personId) return failure('your own proposal' as const);
    const isOn = isApproved ? before.proposed.isOn : before.isOn;
    const value: SmallShop = { isOn, proposed: null };
    await tx
      .update(setting)
      .set({ value, changedBy: actor.personId, changedAt: now })
      .where(eq(setting.name, smallShopName));
    await appendToLedger(tx, {
      kind: isApproved ? 'small shop approved' : 'small shop refused',
      actor,
      now,
      payload: { isOn, proposedBy: before.proposed.by },
    });
    return success(null);
  });
}
