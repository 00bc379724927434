import { and, eq } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import { failure, type Result, success } from '@/lib/result';
import type { HandCause } from '@/lib/stand-down/hand-causes';
import type { Db } from '../client';
import { appendToLedger } from '../ledger';
import { judgeUnit } from '../record/judge-unit';
import { openSpell } from '../record/open-spell';
import { verdict } from '../schema';
import { inTransaction, lockUnit } from '../transaction';

interface StandDown {
  readonly actor: Actor;
  readonly unitId: string;
  readonly cause: HandCause;
  readonly note: string | null;
  readonly now: Date;
}

/** Takes a unit out of service by hand. Anyone in operations may; a second call finds it done. */
export async function standDown(
  db: Db,
  { actor, unitId, cause, note, now }: StandDown,
): Promise<Result<{ readonly spellId: string }, 'unknown unit' | 'already out of service'>> {
  requirePermission(actor, 'stand a unit down');
  return inTransaction(db, async (tx) => {
    const unit = await lockUnit(tx, unitId);
    if (!unit) return failure('unknown unit' as const);
    const [before] = await tx
      .select({ mark: verdict.mark })
      .from(verdict)
      .where(and(eq(verdict.unitId, unitId), eq(verdict.isCurrent, true)));
    const opened = await openSpell(tx, {
      unitId,
      cause,
      why: `Stood down by hand: ${cause}.`,
      note,
      openedBy: actor,
      wasWarned: before?.mark === 'Book in' || before?.mark === 'Drifting',
      now,
    });
    if (opened === 'already open') {
      await appendToLedger(tx, {
        kind: 'stand-down repeated',
        actor,
        now,
        unitId,
        payload: { cause, note },
      });
      return failure('already out of service' as const);
    }
    await judgeUnit(tx, { unitId, actor, now, because: 'stood down by hand' });
    return success(opened);
  });
}
