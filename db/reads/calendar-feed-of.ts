import { eq } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import type { Db, Tx } from '../client';
import { calendarFeed } from '../schema';

/** When the actor's calendar address was made; null without one. */
export async function calendarFeedOf(db: Db | Tx, actor: Actor): Promise<Date | null> {
  requirePermission(actor, 'see units');
  const [row] = await db
    .select({ madeAt: calendarFeed.madeAt })
    .from(calendarFeed)
    .where(eq(calendarFeed.personId, actor.personId));
  return row?.madeAt ?? null;
}
