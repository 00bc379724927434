import { type Actor, requirePermission } from '@/lib/access';
import type { BulletinStatus } from '@/lib/bulletins/bulletin-state';
import { dayFromIso, isoFromDay, localDay } from '@/lib/calendar';
import { failure, type Problem, type Result } from '@/lib/result';
import type { Db } from '../client';
import { appendToLedger } from '../ledger';
import { judgeUnit } from '../record/judge-unit';
import { moveBulletin } from '../record/move-bulletin';
import { inTransaction, lockUnit } from '../transaction';

interface RefuseBulletin {
  readonly actor: Actor;
  readonly bulletinId: string;
  readonly unitId: string;
  readonly reason: string;
  /** Year-month-day on which the refusal is looked at again. */
  readonly reviewOn: string;
  readonly now: Date;
}

/** Refuses the work on one unit until a review date: a mandatory bulletin by the safety officer alone. */
export async function refuseBulletin(
  db: Db,
  { actor, bulletinId, unitId, reason, reviewOn, now }: RefuseBulletin,
): Promise<Result<BulletinStatus, Problem>> {
  requirePermission(
    actor,
    actor.role === 'safety officer' ? 'approve a do-not-drive bulletin' : 'edit bulletins',
  );
  const review = dayFromIso(reviewOn);
  if (review === null) {
    return failure({
      field: 'reviewOn',
      message: 'The review date is no day of the calendar.',
      mend: 'Write year-month-day.',
    });
  }
  return inTransaction(db, async (tx): Promise<Result<BulletinStatus, Problem>> => {
    const unit = await lockUnit(tx, unitId);
    if (!unit)
      return failure({ field: 'unit', message: 'No such unit.', mend: 'Check the number.' });
    const on = localDay(now, 'UTC');
    const event = { type: 'refused', role: actor.role, reason, on, reviewOn: review } as const;
    const moved = await moveBulletin(tx, { bulletinId, unitId, event, actor, now });
    if (!moved.ok) return moved;
    const payload = { bulletinId, reason, reviewOn: isoFromDay(review) };
    await appendToLedger(tx, { kind: 'bulletin refused', actor, now, unitId, payload });
    await judgeUnit(tx, { unitId, actor, now, because: 'bulletin refused' });
    return moved;
  });
}
