import { type Actor, requirePermission } from '@/lib/access';
import type { Db } from '../client';
import { appendToLedger } from '../ledger';
import { type SmallShop, smallShop, smallShopName } from '../reads/small-shop';
import { setting } from '../schema';
import { inTransaction } from '../transaction';

interface ProposeSmallShop {
  readonly actor: Actor;
  readonly isOn: boolean;
  readonly why: string;
  readonly now: Date;
}

/** Puts the small-shop rule, or its end, up for a safety officer to decide; a newer proposal replaces one. */
export async function proposeSmallShop(
  db: Db,
  { actor, isOn, why, now }: ProposeSmallShop,
): Promise<void> {
  requirePermission(actor, 'change people');
  await inTransaction(db, async (tx) => {
    const before = await smallShop(tx);
    const value: SmallShop = { ...before, proposed: { isOn, by: actor.personId, why } };
    const row = { value, changedBy: actor.personId, changedAt: now };
    await tx
      .insert(setting)
      .values({ name: smallShopName, ...row })
      .onConflictDoUpdate({ target: setting.name, set: row });
    await appendToLedger(tx, {
      kind: 'small shop proposed',
      actor,
      now,
      payload: { isOn, why },
    });
  });
}
