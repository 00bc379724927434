import { eq } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import { failure, type Result, success } from '@/lib/result';
import type { Refusal } from '@/lib/stand-down/refusals';
import type { Db } from '../client';
import { appendToLedger } from '../ledger';
import { drivenWhileOutOf } from '../reads/driven-while-out';
import { spell } from '../schema';
import { inTransaction } from '../transaction';

interface AcknowledgeDriving {
  readonly actor: Actor;
  readonly spellId: string;
  /** The entry that told of the driving. */
  readonly drivenEntry: number;
  /** Who drove it and why, and what was done about it. */
  readonly note: string;
  readonly now: Date;
}

/** A safety officer has looked into a unit that was driven while it was out of service. */
export async function acknowledgeDriving(
  db: Db,
  { actor, spellId, drivenEntry, note, now }: AcknowledgeDriving,
): Promise<Result<null, Refusal>> {
  requirePermission(actor, 'release to service');
  if (!note.trim()) return failure('nothing said of who drove');
  return inTransaction(db, async (tx): Promise<Result<null, Refusal>> => {
    const [row] = await tx.select().from(spell).where(eq(spell.id, spellId)).for('update');
    const notes = row && (await drivenWhileOutOf(tx, [row])).get(spellId);
    const told = notes?.find(({ entry }) => entry === drivenEntry);
    if (!row || !told) return failure('no such driving');
    if (told.acknowledged) return failure('acknowledged already');
    await appendToLedger(tx, {
      kind: 'driving acknowledged',
      actor,
      now,
      unitId: row.unitId,
      payload: { spellId, drivenEntry, note },
    });
    return success(null);
  });
}
