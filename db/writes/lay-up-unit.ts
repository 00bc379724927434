import { eq } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import { failure, type Result, success } from '@/lib/result';
import type { Db } from '../client';
import { appendToLedger } from '../ledger';
import { judgeUnit } from '../record/judge-unit';
import { unit } from '../schema';
import { inTransaction, lockUnit } from '../transaction';

interface LayUpUnit {
  readonly actor: Actor;
  readonly unitId: string;
  readonly what: 'laid up' | 'left the fleet';
  readonly on: string;
  readonly now: Date;
}

/** Notes the day from which a unit is laid up or gone: it bears no mark and is read before use again. */
export async function layUpUnit(
  db: Db,
  { actor, unitId, what, on, now }: LayUpUnit,
): Promise<Result<null, 'unknown unit'>> {
  return inTransaction(db, async (tx): Promise<Result<null, 'unknown unit'>> => {
    const found = await lockUnit(tx, unitId);
    if (!found) return failure('unknown unit');
    requirePermission(actor, 'plan', found.shedId);
    await tx
      .update(unit)
      .set(what === 'laid up' ? { laidUpOn: on } : { leftFleetOn: on })
      .where(eq(unit.id, unitId));
    await appendToLedger(tx, { kind: `unit ${what}`, actor, now, unitId, payload: { on } });
    await judgeUnit(tx, { unitId, actor, now, because: `unit ${what}` });
    return success(null);
  });
}
