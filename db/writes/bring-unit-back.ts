import { and, eq } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import { failure, type Result, success } from '@/lib/result';
import type { Db } from '../client';
import { appendToLedger } from '../ledger';
import { judgeUnit } from '../record/judge-unit';
import { unit, verdict } from '../schema';
import { inTransaction, lockUnit } from '../transaction';

export type BackRefusal = 'unknown unit' | 'not laid up' | 'not read since';

interface BringUnitBack {
  readonly actor: Actor;
  readonly unitId: string;
  readonly now: Date;
}

/** Puts a unit back into use: only with a sound reading after the day on which it was laid up or left. */
export async function bringUnitBack(
  db: Db,
  { actor, unitId, now }: BringUnitBack,
): Promise<Result<null, BackRefusal>> {
  return inTransaction(db, async (tx): Promise<Result<null, BackRefusal>> => {
    const found = await lockUnit(tx, unitId);
    if (!found) return failure('unknown unit');
    requirePermission(actor, 'plan', found.shedId);
    const { laidUpOn, leftFleetOn } = found;
    const awayFrom = [laidUpOn, leftFleetOn]
      .filter((day) => day !== null)
      .sort()
      .at(-1);
    if (awayFrom === undefined) return failure('not laid up');
    const [current] = await tx
      .select({ readOn: verdict.latestReadOn })
      .from(verdict)
      .where(and(eq(verdict.unitId, unitId), eq(verdict.isCurrent, true)));
    if (!current?.readOn || current.readOn <= awayFrom) return failure('not read since');
    await tx.update(unit).set({ laidUpOn: null, leftFleetOn: null }).where(eq(unit.id, unitId));
    await appendToLedger(tx, {
      kind: 'unit back in use',
      actor,
      now,
      unitId,
      payload: { awayFrom, readOn: current.readOn },
    });
    await judgeUnit(tx, { unitId, actor, now, because: 'unit back in use' });
    return success(null);
  });
}
