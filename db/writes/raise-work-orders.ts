import { asc, inArray } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import { failure, type Result, success } from '@/lib/result';
import type { Db } from '../client';
import { appendToLedger } from '../ledger';
import type { Order } from '../record/change-order';
import { type OrderWanted, type RaiseRefusal, raiseOrders } from '../record/raise-orders';
import { unit } from '../schema';
import { inTransaction } from '../transaction';

interface RaiseWorkOrders {
  readonly actor: Actor;
  /** One a unit. */
  readonly wanted: readonly OrderWanted[];
  readonly now: Date;
}

/** Raises an order for each of many units: all of them or none. */
export async function raiseWorkOrders(
  db: Db,
  { actor, wanted, now }: RaiseWorkOrders,
): Promise<Result<readonly Order[], RaiseRefusal>> {
  if (wanted.length === 0) return success([]);
  return inTransaction(db, async (tx) => {
    const units = await tx
      .select({ id: unit.id, shedId: unit.shedId })
      .from(unit)
      .where(
        inArray(
          unit.id,
          wanted.map(({ unitId }) => unitId),
        ),
      )
      .orderBy(asc(unit.id))
      .for('no key update');
    if (units.length < wanted.length) return failure('unknown unit' as const);
    for (const shedId of new Set(units.map((one) => one.shedId))) {
      requirePermission(actor, 'raise a work order', shedId);
    }
    const raised = await raiseOrders(tx, { actor, wanted, now });
    if (!raised.ok) return raised;
    await appendToLedger(tx, ...raised.value.notes);
    return success(raised.value.orders);
  });
}
