import { and, eq, isNull } from 'drizzle-orm';
import type { Actor } from '@/lib/access';
import type { BulletinEvent } from '@/lib/bulletins/bulletin-state';
import type { FittedPart } from '@/lib/bulletins/required-parts';
import type { Tx } from '../client';
import { bulletinUnit, fitment } from '../schema';
import type { Order, Task } from './change-order';
import { moveBulletin } from './move-bulletin';

interface FollowOrder {
  /** The order after its move, and its tasks as they stand then. */
  readonly order: Order;
  readonly tasks: readonly Pick<Task, 'state' | 'bulletinId'>[];
  readonly actor: Actor | null;
  readonly now: Date;
}

const partsFitted = (tx: Tx, unitId: string): Promise<FittedPart[]> =>
  tx
    .select({ part: fitment.part, revision: fitment.revision })
    .from(fitment)
    .where(and(eq(fitment.unitId, unitId), isNull(fitment.removedOn)));

/**
 * Moves the bulletins that an order is to do along with it: planned when it is placed or begun, open
 * again when it leaves the plan, done when it closes with the task done and the parts fitted.
 */
export async function followOrder(
  tx: Tx,
  { order, tasks, actor, now }: FollowOrder,
): Promise<void> {
  for (const { bulletinId, state } of tasks) {
    if (bulletinId === null) continue;
    const [pair] = await tx
      .select({ status: bulletinUnit.status, workOrderId: bulletinUnit.workOrderId })
      .from(bulletinUnit)
      .where(and(eq(bulletinUnit.bulletinId, bulletinId), eq(bulletinUnit.unitId, order.unitId)));
    const isItsPlan = pair?.status === 'planned' && pair.workOrderId === order.id;
    const fitted = order.state === 'closed' ? await partsFitted(tx, order.unitId) : [];
    const event = eventOf();
    if (event) {
      const unitId = order.unitId;
      const moved = { bulletinId, unitId, event, order, fitted, actor, now };
      await moveBulletin(tx, moved);
    }

    function eventOf(): BulletinEvent | null {
      if (order.state === 'placed' || order.state === 'begun') {
        return pair?.status === 'open' ? { type: 'order placed' } : null;
      }
      if (!isItsPlan) return null;
      if (order.state === 'raised' || order.state === 'withdrawn') {
        return { type: 'order withdrawn' };
      }
      if (order.state !== 'closed') return null;
      return state === 'done' ? { type: 'order closed', fitted } : { type: 'order withdrawn' };
    }
  }
}
