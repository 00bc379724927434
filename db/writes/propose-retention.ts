import { type Actor, requirePermission } from '@/lib/access';
import type { RetentionPolicy } from '@/lib/retention/retention-policy';
import type { Db } from '../client';
import { appendToLedger } from '../ledger';
import { type Retention, retention, retentionName } from '../reads/retention';
import { setting } from '../schema';
import { inTransaction } from '../transaction';

interface ProposeRetention {
  readonly actor: Actor;
  readonly policy: RetentionPolicy;
  readonly why: string;
  readonly now: Date;
}

/** Puts a policy up for a safety officer to decide; a newer proposal replaces one. */
export async function proposeRetention(
  db: Db,
  { actor, policy, why, now }: ProposeRetention,
): Promise<void> {
  requirePermission(actor, 'propose limits');
  await inTransaction(db, async (tx) => {
    const before = await retention(tx);
    const value: Retention = { ...before, proposed: { policy, by: actor.personId, why } };
    const row = { value, changedBy: actor.personId, changedAt: now };
    await tx
      .insert(setting)
      .values({ name: retentionName, ...row })
      .onConflictDoUpdate({ target: setting.name, set: row });
    await appendToLedger(tx, {
      kind: 'retention proposed',
      actor,
      now,
      payload: { policy: { ...policy }, why },
    });
  });
}
