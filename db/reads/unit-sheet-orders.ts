import { asc, desc, eq } from 'drizzle-orm';
import type { WorkOrderState } from '@/lib/work-orders/move-order';
import type { Db, Tx } from '../client';
import { shed, workOrder, workTask } from '../schema';

export interface SheetOrder {
  readonly number: number;
  readonly state: WorkOrderState;
  readonly why: string;
  readonly week: string | null;
  readonly shed: string | null;
  readonly foundCause: string | null;
  readonly closedAt: Date | null;
  readonly tasks: readonly string[];
  readonly hours: number;
}

/** Work orders of a unit, newest first. The caller has asked who may see them. */
export async function unitSheetOrders(db: Db | Tx, unitId: string): Promise<SheetOrder[]> {
  const orders = await db
    .select({ order: workOrder, shed: shed.name })
    .from(workOrder)
    .leftJoin(shed, eq(shed.id, workOrder.shedId))
    .where(eq(workOrder.unitId, unitId))
    .orderBy(desc(workOrder.number));
  const tasks = await db
    .select({
      orderId: workTask.workOrderId,
      title: workTask.title,
      hours: workTask.hours,
      state: workTask.state,
    })
    .from(workTask)
    .innerJoin(workOrder, eq(workOrder.id, workTask.workOrderId))
    .where(eq(workOrder.unitId, unitId))
    .orderBy(asc(workTask.position));
  return orders.map(({ order, shed: place }) => {
    const own = tasks.filter(({ orderId, state }) => orderId === order.id && state !== 'struck');
    return {
      number: order.number,
      state: order.state,
      why: order.why,
      week: order.week,
      shed: place,
      foundCause: order.foundCause,
      closedAt: order.closedAt,
      tasks: own.map(({ title }) => title),
      hours: own.reduce((sum, { hours }) => sum + hours, 0),
    };
  });
}
