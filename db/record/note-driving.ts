import { and, eq, isNull } from 'drizzle-orm';
import type { Actor } from '@/lib/access';
import type { Kilometres } from '@/lib/measure';
import type { Tx } from '../client';
import { appendToLedger } from '../ledger';
import { drivenSince } from '../reads/driven-while-out';
import { spell } from '../schema';

interface NoteDriving {
  readonly unitId: string;
  /** The odometer just seen, by a reading or a work order. */
  readonly odometer: Kilometres | null;
  /** `reading`, `work order 1042`. */
  readonly seenBy: string;
  readonly actor: Actor;
  readonly now: Date;
}

/** Leaves an entry when a unit that is out of service shows more distance than one road test. */
export async function noteDriving(
  tx: Tx,
  { unitId, odometer, seenBy, actor, now }: NoteDriving,
): Promise<void> {
  const [open] = await tx
    .select()
    .from(spell)
    .where(and(eq(spell.unitId, unitId), isNull(spell.releasedAt)));
  const driven = open ? await drivenSince(tx, open, odometer) : null;
  if (!open || driven === null) return;
  await appendToLedger(tx, {
    kind: 'driven while out of service',
    actor,
    now,
    unitId,
    payload: { spellId: open.id, kilometres: driven, seenBy },
  });
}
