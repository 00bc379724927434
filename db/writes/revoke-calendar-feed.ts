import { eq } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import type { Db } from '../client';
import { appendToLedger } from '../ledger';
import { calendarFeed } from '../schema';
import { inTransaction } from '../transaction';

/** Takes the actor's own calendar address back; without one there is nothing to do. */
export async function revokeCalendarFeed(
  db: Db,
  { actor, now }: { readonly actor: Actor; readonly now: Date },
): Promise<void> {
  requirePermission(actor, 'see units');
  await inTransaction(db, async (tx) => {
    const gone = await tx
      .delete(calendarFeed)
      .where(eq(calendarFeed.personId, actor.personId))
      .returning({ id: calendarFeed.id });
    if (gone.length === 0) return;
    await appendToLedger(tx, { kind: 'calendar address revoked', actor, now, payload: {} });
  });
}
