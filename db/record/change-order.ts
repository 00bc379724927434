import { and, asc, eq, isNull } from 'drizzle-orm';
import type { Actor } from '@/lib/access';
import { failure, type Result, success } from '@/lib/result';
import {
  type MoveRefusal,
  type Mover,
  moveOrder,
  type WorkOrderMove,
} from '@/lib/work-orders/move-order';
import type { Tx } from '../client';
import { spell, type TaskKind, workOrder, workTask } from '../schema';
import { lockUnit } from '../transaction';

export type Order = typeof workOrder.$inferSelect;
export type Task = typeof workTask.$inferSelect;
type OrderChange = Partial<
  Omit<typeof workOrder.$inferInsert, 'id' | 'unitId' | 'state' | 'version'>
>;

export type OrderRefusal =
  | MoveRefusal
  | 'no such order'
  /** Somebody changed it since it was shown. */
  | 'changed meanwhile';

const provedKinds: readonly TaskKind[] = [
  'pump',
  'belt',
  'booster and line',
  'line',
  'check valve',
  'leak search',
];

export interface LockedOrder {
  readonly order: Order;
  readonly tasks: readonly Task[];
  readonly hasOpenSpell: boolean;
  readonly shedId: string;
}

/** The order with its unit locked, so that readings, spells and orders of a unit take turns. */
export async function lockOrder(tx: Tx, orderId: string): Promise<LockedOrder | null> {
  const [seen] = await tx
    .select({ unitId: workOrder.unitId })
    .from(workOrder)
    .where(eq(workOrder.id, orderId));
  const unit = seen && (await lockUnit(tx, seen.unitId));
  if (!unit) return null;
  const [order] = await tx.select().from(workOrder).where(eq(workOrder.id, orderId));
  if (!order) return null;
  const tasks = await tx
    .select()
    .from(workTask)
    .where(eq(workTask.workOrderId, orderId))
    .orderBy(asc(workTask.position));
  const [open] = await tx
    .select({ id: spell.id })
    .from(spell)
    .where(and(eq(spell.unitId, order.unitId), isNull(spell.releasedAt)));
  return { order, tasks, hasOpenSpell: open !== undefined, shedId: unit.shedId };
}

interface ChangeOrder {
  readonly move: WorkOrderMove;
  readonly mover: Mover;
  readonly change?: OrderChange;
  /** The version that the mover saw; left out by the system. */
  readonly seenVersion?: number;
  readonly now: Date;
}

/** Makes a move that `moveOrder` allows and raises the version. The caller notes it in the ledger. */
export async function changeOrder(
  tx: Tx,
  locked: LockedOrder,
  { move, mover, change, seenVersion, now }: ChangeOrder,
): Promise<Result<Order, OrderRefusal>> {
  const { order, tasks, hasOpenSpell } = locked;
  if (seenVersion !== undefined && seenVersion !== order.version)
    return failure('changed meanwhile');
  const moved = moveOrder(
    {
      state: order.state,
      hasOpenSpell,
      areTasksSettled: tasks.every(({ state }) => state !== 'open'),
      needsProof: tasks.some(({ kind, state }) => state === 'done' && provedKinds.includes(kind)),
    },
    move,
    mover,
  );
  if (!moved.ok) return moved;
  const [row] = await tx
    .update(workOrder)
    .set({
      ...change,
      state: moved.value,
      version: order.version + 1,
      ...(moved.value === 'closed' && { closedAt: now }),
    })
    .where(eq(workOrder.id, order.id))
    .returning();
  return row ? success(row) : failure('no such order');
}

export const moverOf = (actor: Actor): Mover => actor.role;
