import { type Actor, requirePermission } from '@/lib/access';
import { failure, type Result, success } from '@/lib/result';
import type { Db } from '../client';
import { appendToLedger } from '../ledger';
import { changeOrder, lockOrder, moverOf } from '../record/change-order';
import { inTransaction } from '../transaction';

export interface Proposed {
  readonly orderId: string;
  readonly seenVersion: number;
  readonly shedId: string;
  readonly week: string;
}

/** Places all of a proposal or none of it: an order that changed meanwhile stops the whole. */
export async function placeProposal(
  db: Db,
  {
    actor,
    placements,
    now,
  }: { readonly actor: Actor; readonly placements: readonly Proposed[]; readonly now: Date },
): Promise<Result<number, { readonly orderNumber: number | null }>> {
  requirePermission(actor, 'plan');
  let refusedAt: { orderNumber: number | null } | null = null;
  const inOrder = [...placements].sort((a, b) => (a.orderId < b.orderId ? -1 : 1));
  try {
    return await inTransaction(db, async (tx) => {
      const placed: { workOrder: number; unit: string; shed: string; week: string }[] = [];
      for (const { orderId, seenVersion, shedId, week } of inOrder) {
        const locked = await lockOrder(tx, orderId);
        const changed =
          locked &&
          (await changeOrder(tx, locked, {
            move: 'place',
            mover: moverOf(actor),
            seenVersion,
            now,
            change: { shedId, week, isPinned: false },
          }));
        if (!changed?.ok) {
          refusedAt = { orderNumber: locked?.order.number ?? null };
          return tx.rollback();
        }
        placed.push({
          workOrder: changed.value.number,
          unit: changed.value.unitId,
          shed: shedId,
          week,
        });
      }
      await appendToLedger(tx, {
        kind: 'plan proposed and placed',
        actor,
        now,
        payload: { placed },
      });
      return success(placed.length);
    });
  } catch (error) {
    if (refusedAt) return failure(refusedAt);
    throw error;
  }
}
