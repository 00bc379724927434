import { type Actor, requirePermission } from '@/lib/access';
import type { BulletinStatus } from '@/lib/bulletins/bulletin-state';
import { failure, type Problem, type Result } from '@/lib/result';
import type { Db } from '../client';
import { appendToLedger } from '../ledger';
import { judgeUnit } from '../record/judge-unit';
import { moveBulletin } from '../record/move-bulletin';
import { inTransaction, lockUnit } from '../transaction';

interface InspectBulletin {
  readonly actor: Actor;
  readonly bulletinId: string;
  readonly unitId: string;
  /** What was seen that makes the work unnecessary. */
  readonly finding: string;
  readonly now: Date;
}

/** A technician looked: the work is not needed on this unit. It ends no spell; a release does. */
export async function inspectBulletin(
  db: Db,
  { actor, bulletinId, unitId, finding, now }: InspectBulletin,
): Promise<Result<BulletinStatus, Problem>> {
  return inTransaction(db, async (tx): Promise<Result<BulletinStatus, Problem>> => {
    const unit = await lockUnit(tx, unitId);
    if (!unit)
      return failure({ field: 'unit', message: 'No such unit.', mend: 'Check the number.' });
    requirePermission(actor, 'work a work order', unit.shedId);
    const event = { type: 'inspected', role: actor.role, finding } as const;
    const moved = await moveBulletin(tx, { bulletinId, unitId, event, actor, now });
    if (!moved.ok) return moved;
    const payload = { bulletinId, finding };
    await appendToLedger(tx, { kind: 'bulletin inspected', actor, now, unitId, payload });
    await judgeUnit(tx, { unitId, actor, now, because: 'bulletin inspected' });
    return moved;
  });
}
