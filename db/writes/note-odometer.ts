import { and, eq, isNull } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import type { Kilometres } from '@/lib/measure';
import { failure, type Result, success } from '@/lib/result';
import type { OdometerSource } from '@/lib/stand-down/odometer-sources';
import type { Refusal } from '@/lib/stand-down/refusals';
import type { Db } from '../client';
import { appendToLedger } from '../ledger';
import { noteDriving } from '../record/note-driving';
import { spell } from '../schema';
import { inTransaction, lockUnit } from '../transaction';

interface NoteOdometer {
  readonly actor: Actor;
  readonly unitId: string;
  readonly odometer: Kilometres;
  readonly seenOn: OdometerSource;
  readonly now: Date;
}

/** Notes the odometer of a unit that is out of service; a road test logged so may go its 5 miles. */
export async function noteOdometer(
  db: Db,
  { actor, unitId, odometer, seenOn, now }: NoteOdometer,
): Promise<Result<null, Refusal>> {
  requirePermission(actor, 'stand a unit down');
  return inTransaction(db, async (tx) => {
    await lockUnit(tx, unitId);
    const [open] = await tx
      .select({ id: spell.id })
      .from(spell)
      .where(and(eq(spell.unitId, unitId), isNull(spell.releasedAt)));
    if (!open) return failure('no open spell' as const);
    await appendToLedger(tx, {
      kind: 'odometer seen',
      actor,
      now,
      unitId,
      payload: { spellId: open.id, odometerKm: odometer, seenOn },
    });
    await noteDriving(tx, { unitId, odometer, seenAt: now, seenBy: seenOn, actor, now });
    return success(null);
  });
}
