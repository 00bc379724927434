import { eq } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import { failure, type Result, success } from '@/lib/result';
import { mayAcceptClock } from '@/lib/stand-down/next-steps';
import type { Refusal } from '@/lib/stand-down/refusals';
import type { Db } from '../client';
import { appendToLedger } from '../ledger';
import { openSpellOfUnit } from '../reads/facts-of-spells';
import { spell } from '../schema';
import { inTransaction, lockUnit } from '../transaction';

interface AcceptClock {
  readonly actor: Actor;
  readonly unitId: string;
  readonly readingId: string;
  readonly reason: string;
  readonly now: Date;
}

/** Lets a reading from a device with a wrong clock count as proof. */
export async function acceptClock(
  db: Db,
  { actor, unitId, readingId, reason, now }: AcceptClock,
): Promise<Result<null, Refusal>> {
  requirePermission(actor, 'release to service');
  return inTransaction(db, async (tx): Promise<Result<null, Refusal>> => {
    await lockUnit(tx, unitId);
    const open = await openSpellOfUnit(tx, unitId);
    if (!open) return failure('no open spell');
    const allowed = mayAcceptClock(open.facts, actor, readingId);
    if (!allowed.ok) return allowed;
    await tx
      .update(spell)
      .set({ evidence: [...open.row.evidence, { readingId, acknowledgedBy: actor.personId }] })
      .where(eq(spell.id, open.row.id));
    await appendToLedger(tx, {
      kind: 'clock accepted',
      actor,
      now,
      unitId,
      payload: {
        spellId: open.row.id,
        readingId,
        clockSkewS: allowed.value.clockSkew,
        reason,
      },
    });
    return success(null);
  });
}
