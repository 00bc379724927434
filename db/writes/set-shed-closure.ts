import { and, eq } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import type { Db } from '../client';
import { appendToLedger } from '../ledger';
import { shedClosure } from '../schema';
import { inTransaction } from '../transaction';

interface SetShedClosure {
  readonly actor: Actor;
  readonly shedId: string;
  readonly week: string;
  /** None gives the week its hours back. */
  readonly hoursLost: number;
  readonly reason: string;
  readonly now: Date;
}

/** Notes the bay hours that a shed loses in a week. */
export async function setShedClosure(
  db: Db,
  { actor, shedId, week, hoursLost, reason, now }: SetShedClosure,
): Promise<void> {
  requirePermission(actor, 'plan', shedId);
  await inTransaction(db, async (tx) => {
    if (hoursLost > 0) {
      await tx
        .insert(shedClosure)
        .values({ shedId, week, hoursLost, reason })
        .onConflictDoUpdate({
          target: [shedClosure.shedId, shedClosure.week],
          set: { hoursLost, reason },
        });
    } else {
      await tx
        .delete(shedClosure)
        .where(and(eq(shedClosure.shedId, shedId), eq(shedClosure.week, week)));
    }
    await appendToLedger(tx, {
      kind: 'bay hours changed',
      actor,
      now,
      payload: { shed: shedId, week, hoursLost, reason },
    });
  });
}
