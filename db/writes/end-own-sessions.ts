import { type Actor, requirePermission } from '@/lib/access';
import type { Db } from '../client';
import { appendToLedger } from '../ledger';
import { endSessions } from '../record/person-access';
import { inTransaction } from '../transaction';

/** Signs somebody out on every device, this one too. What a device keeps unsent stays on it. */
export async function endOwnSessions(db: Db, actor: Actor, now: Date): Promise<void> {
  requirePermission(actor, 'end own sessions');
  await inTransaction(db, async (tx) => {
    await endSessions(tx, actor.personId);
    await appendToLedger(tx, {
      kind: 'signed out everywhere',
      actor,
      now,
      payload: { personId: actor.personId },
    });
  });
}
