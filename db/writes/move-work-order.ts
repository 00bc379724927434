import { type Actor, requirePermission } from '@/lib/access';
import { failure, type Result } from '@/lib/result';
import type { WorkOrderMove } from '@/lib/work-orders/move-order';
import type { Db } from '../client';
import { appendToLedger } from '../ledger';
import {
  changeOrder,
  lockOrder,
  moverOf,
  type Order,
  type OrderRefusal,
} from '../record/change-order';
import { followOrder } from '../record/follow-order';
import { inTransaction } from '../transaction';

interface OrderMove {
  readonly actor: Actor;
  readonly orderId: string;
  readonly seenVersion: number;
  readonly now: Date;
}

async function move(
  db: Db,
  { actor, orderId, seenVersion, now }: OrderMove,
  made: WorkOrderMove,
  change: Parameters<typeof changeOrder>[2]['change'],
): Promise<Result<Order, OrderRefusal>> {
  return inTransaction(db, async (tx): Promise<Result<Order, OrderRefusal>> => {
    const locked = await lockOrder(tx, orderId);
    if (!locked) return failure('no such order');
    requirePermission(actor, 'work a work order', locked.shedId);
    const changed = await changeOrder(tx, locked, {
      move: made,
      mover: moverOf(actor),
      change,
      seenVersion,
      now,
    });
    if (!changed.ok) return changed;
    const { order } = locked;
    await appendToLedger(tx, {
      kind: `work order: ${made}`,
      actor,
      now,
      unitId: order.unitId,
      payload: {
        workOrder: order.number,
        from: order.state,
        to: changed.value.state,
        shed: changed.value.shedId,
        week: changed.value.week,
        waitingFor: changed.value.waitingFor,
        waitingUntil: changed.value.waitingUntil,
        why: changed.value.withdrawnWhy,
      },
    });
    await followOrder(tx, { order: changed.value, tasks: locked.tasks, actor, now });
    return changed;
  });
}

/** Gives the order a shed and an ISO week; a placed one is moved. */
export const placeWorkOrder = (
  db: Db,
  input: OrderMove & { readonly shedId: string; readonly week: string; readonly isPinned: boolean },
) => move(db, input, 'place', { shedId: input.shedId, week: input.week, isPinned: input.isPinned });

export const takeOutOfPlan = (db: Db, input: OrderMove) =>
  move(db, input, 'take out of the plan', { week: null, isPinned: false });

export const beginWorkOrder = (db: Db, input: OrderMove) =>
  move(db, input, 'begin', { begunBy: input.actor.personId, begunAt: input.now });

/** Waits for a part or another reason, with the day it is expected. */
export const letWorkOrderWait = (
  db: Db,
  input: OrderMove & { readonly waitingFor: string; readonly waitingUntil: string | null },
) => move(db, input, 'wait', { waitingFor: input.waitingFor, waitingUntil: input.waitingUntil });

export const goOnWithWorkOrder = (db: Db, input: OrderMove) =>
  move(db, input, 'go on', { waitingFor: null, waitingUntil: null });

export const withdrawWorkOrder = (db: Db, input: OrderMove & { readonly why: string }) =>
  move(db, input, 'withdraw', { withdrawnBy: input.actor.personId, withdrawnWhy: input.why });
