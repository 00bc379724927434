import { and, eq } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import { failure, type Result, success } from '@/lib/result';
import type { Db } from '../client';
import { appendToLedger } from '../ledger';
import { unitAbsence } from '../schema';
import { inTransaction, lockUnit } from '../transaction';

interface SetUnitAbsence {
  readonly actor: Actor;
  readonly unitId: string;
  readonly week: string;
  readonly isAway: boolean;
  readonly reason: string;
  readonly now: Date;
}

/** Notes a week in which a unit cannot come to a bay, or that it can after all. */
export async function setUnitAbsence(
  db: Db,
  { actor, unitId, week, isAway, reason, now }: SetUnitAbsence,
): Promise<Result<null, 'unknown unit'>> {
  return inTransaction(db, async (tx): Promise<Result<null, 'unknown unit'>> => {
    const unit = await lockUnit(tx, unitId);
    if (!unit) return failure('unknown unit');
    requirePermission(actor, 'plan', unit.shedId);
    if (isAway) {
      await tx
        .insert(unitAbsence)
        .values({ unitId, week, reason })
        .onConflictDoUpdate({
          target: [unitAbsence.unitId, unitAbsence.week],
          set: { reason },
        });
    } else {
      await tx
        .delete(unitAbsence)
        .where(and(eq(unitAbsence.unitId, unitId), eq(unitAbsence.week, week)));
    }
    await appendToLedger(tx, {
      kind: isAway ? 'unit away' : 'unit not away',
      actor,
      now,
      unitId,
      payload: { week, reason },
    });
    return success(null);
  });
}
