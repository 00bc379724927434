import { eq } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import { failure, type Result, success } from '@/lib/result';
import type { Refusal } from '@/lib/stand-down/refusals';
import type { Db } from '../client';
import { appendToLedger } from '../ledger';
import { spell } from '../schema';
import { inTransaction } from '../transaction';

interface AcknowledgeEvidence {
  readonly actor: Actor;
  readonly spellId: string;
  readonly readingId: string;
  readonly now: Date;
}

/** A safety officer has seen the late reading that joined an ended spell. */
export async function acknowledgeEvidence(
  db: Db,
  { actor, spellId, readingId, now }: AcknowledgeEvidence,
): Promise<Result<null, Refusal>> {
  requirePermission(actor, 'release to service');
  return inTransaction(db, async (tx): Promise<Result<null, Refusal>> => {
    const [row] = await tx.select().from(spell).where(eq(spell.id, spellId)).for('update');
    const joined = row?.evidence.find((one) => one.readingId === readingId);
    if (!row || !joined) return failure('no such reading');
    if (joined.acknowledgedBy) return success(null);
    await tx
      .update(spell)
      .set({
        evidence: row.evidence.map((one) =>
          one.readingId === readingId ? { readingId, acknowledgedBy: actor.personId } : one,
        ),
      })
      .where(eq(spell.id, spellId));
    await appendToLedger(tx, {
      kind: 'late reading acknowledged',
      actor,
      now,
      unitId: row.unitId,
      payload: { spellId, readingId },
    });
    return success(null);
  });
}
