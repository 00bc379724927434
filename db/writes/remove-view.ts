import { and, eq } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import type { Db } from '../client';
import { appendToLedger } from '../ledger';
import { savedView } from '../schema';
import { inTransaction } from '../transaction';

interface RemoveView {
  readonly actor: Actor;
  readonly viewId: string;
  readonly now: Date;
}

/** Removes one of the actor's own views; one that is not there is removed already. */
export async function removeView(db: Db, { actor, viewId, now }: RemoveView): Promise<void> {
  requirePermission(actor, 'see units');
  await inTransaction(db, async (tx) => {
    const [gone] = await tx
      .delete(savedView)
      .where(and(eq(savedView.id, viewId), eq(savedView.personId, actor.personId)))
      .returning();
    if (!gone) return;
    await appendToLedger(tx, { kind: 'view removed', actor, now, payload: { name: gone.name } });
  });
}
