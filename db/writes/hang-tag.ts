import { and, eq, isNull } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import { failure, type Result, success } from '@/lib/result';
import type { Refusal } from '@/lib/stand-down/refusals';
import type { Db } from '../client';
import { appendToLedger } from '../ledger';
import { spell } from '../schema';
import { inTransaction, lockUnit } from '../transaction';

/** Confirms that the stop tag hangs on the wheel. The first confirmation stands. */
export async function hangTag(
  db: Db,
  { actor, unitId, now }: { readonly actor: Actor; readonly unitId: string; readonly now: Date },
): Promise<Result<null, Refusal>> {
  requirePermission(actor, 'stand a unit down');
  return inTransaction(db, async (tx) => {
    await lockUnit(tx, unitId);
    const [open] = await tx
      .select({ id: spell.id, tagHungAt: spell.tagHungAt })
      .from(spell)
      .where(and(eq(spell.unitId, unitId), isNull(spell.releasedAt)));
    if (!open) return failure('no open spell' as const);
    if (open.tagHungAt) return success(null);
    await tx
      .update(spell)
      .set({ tagHungBy: actor.personId, tagHungAt: now })
      .where(eq(spell.id, open.id));
    await appendToLedger(tx, {
      kind: 'stop tag hung',
      actor,
      now,
      unitId,
      payload: { spellId: open.id },
    });
    return success(null);
  });
}
