import { type Actor, requirePermission } from '@/lib/access';
import { failure, type Result, success } from '@/lib/result';
import type { Db } from '../client';
import { appendToLedger } from '../ledger';
import type { Order } from '../record/change-order';
import { type OrderWanted, type RaiseRefusal, raiseOrders } from '../record/raise-orders';
import { inTransaction, lockUnit } from '../transaction';

interface RaiseWorkOrder extends OrderWanted {
  readonly actor: Actor;
  readonly now: Date;
}

/** Raises an order with tasks from the fleet's templates and the bulletins that it is to do. */
export async function raiseWorkOrder(
  db: Db,
  { actor, now, ...wanted }: RaiseWorkOrder,
): Promise<Result<Order, RaiseRefusal>> {
  return inTransaction(db, async (tx) => {
    const unit = await lockUnit(tx, wanted.unitId);
    if (!unit) return failure('unknown unit' as const);
    requirePermission(actor, 'raise a work order', unit.shedId);
    const raised = await raiseOrders(tx, { actor, wanted: [wanted], now });
    if (!raised.ok) return raised;
    await appendToLedger(tx, ...raised.value.notes);
    return success(raised.value.orders[0]!);
  });
}
