import { type Actor, requirePermission } from '@/lib/access';
import type { BaySlot } from '@/lib/planning/plan';
import { failure, type Result, success } from '@/lib/result';
import type { Db } from '../client';
import { appendToLedger } from '../ledger';
import { changeOrder, lockOrder, moverOf } from '../record/change-order';
import { followOrder } from '../record/follow-order';
import { inTransaction } from '../transaction';

export interface OrderPlacement {
  readonly orderId: string;
  readonly seenVersion: number;
  /** Null takes it out of the plan. */
  readonly to: BaySlot | null;
  readonly isPinned: boolean;
  readonly overfilledWhy: string | null;
}

interface PlaceOrders {
  readonly actor: Actor;
  readonly placements: readonly OrderPlacement[];
  readonly because: 'proposal' | 'moved by hand' | 'undone';
  readonly now: Date;
}

/** Where the orders stood before, so that the step can be undone. */
export type PlacedBefore = readonly OrderPlacement[];

/** Makes all of the placements or none: an order that changed meanwhile stops the whole. */
export async function placeOrders(
  db: Db,
  { actor, placements, because, now }: PlaceOrders,
): Promise<Result<PlacedBefore, { readonly orderNumber: number | null }>> {
  requirePermission(actor, 'plan');
  let refusedAt: { orderNumber: number | null } | null = null;
  const inOrder = [...placements].sort((a, b) => (a.orderId < b.orderId ? -1 : 1));
  try {
    return await inTransaction(db, async (tx) => {
      const placed: Record<string, string | number | null>[] = [];
      const before: OrderPlacement[] = [];
      for (const { orderId, seenVersion, to, isPinned, overfilledWhy } of inOrder) {
        const locked = await lockOrder(tx, orderId);
        const changed =
          locked &&
          (await changeOrder(tx, locked, {
            move: to ? 'place' : 'take out of the plan',
            mover: moverOf(actor),
            seenVersion,
            now,
            change: to
              ? { ...to, isPinned, overfilledWhy }
              : { week: null, isPinned: false, overfilledWhy: null },
          }));
        if (!locked || !changed?.ok) {
          refusedAt = { orderNumber: locked?.order.number ?? null };
          return tx.rollback();
        }
        await followOrder(tx, { order: changed.value, tasks: locked.tasks, actor, now });
        const { order } = locked;
        before.push({
          orderId,
          seenVersion: changed.value.version,
          to:
            order.state === 'placed' && order.week !== null && order.shedId !== null
              ? { shedId: order.shedId, week: order.week }
              : null,
          isPinned: order.isPinned,
          overfilledWhy: order.overfilledWhy,
        });
        placed.push({
          workOrder: order.number,
          unit: order.unitId,
          shed: to?.shedId ?? null,
          week: to?.week ?? null,
          overfilledWhy,
        });
      }
      await appendToLedger(tx, { kind: `plan: ${because}`, actor, now, payload: { placed } });
      return success(before);
    });
  } catch (error) {
    if (refusedAt) return failure(refusedAt);
    throw error;
  }
}
