import { and, asc, desc, eq, inArray, sql } from 'drizzle-orm';
import type { Actor } from '@/lib/access';
import type { Mark } from '@/lib/analysis/assessment';
import type { WorkOrderState } from '@/lib/work-orders/move-order';
import type { Db } from '../client';
import { shed, unit, verdict, workOrder, workTask } from '../schema';
import { unitsSeenBy } from './units-seen-by';

export interface WorkOrderRow {
  readonly id: string;
  readonly number: number;
  readonly unitId: string;
  readonly mark: Mark | null;
  readonly state: WorkOrderState;
  readonly why: string;
  readonly shed: string;
  readonly week: string | null;
  readonly wantedBy: string | null;
  readonly waitingFor: string | null;
  readonly waitingUntil: string | null;
  readonly hours: number;
}

/** Orders in the given states that the actor may see: weeks in order, what has no week last. */
export async function workOrders(
  db: Db,
  actor: Actor,
  states: readonly WorkOrderState[],
  limit = 500,
): Promise<WorkOrderRow[]> {
  const hours = sql<number>`(select coalesce(sum(${workTask.hours}), 0)::float8 from ${workTask}
    where ${workTask.workOrderId} = ${workOrder.id} and ${workTask.state} <> 'struck')`;
  return db
    .select({
      id: workOrder.id,
      number: workOrder.number,
      unitId: workOrder.unitId,
      mark: verdict.mark,
      state: workOrder.state,
      why: workOrder.why,
      shed: shed.name,
      week: workOrder.week,
      wantedBy: workOrder.wantedBy,
      waitingFor: workOrder.waitingFor,
      waitingUntil: workOrder.waitingUntil,
      hours,
    })
    .from(workOrder)
    .innerJoin(unit, eq(unit.id, workOrder.unitId))
    .innerJoin(shed, eq(shed.id, sql`coalesce(${workOrder.shedId}, ${unit.shedId})`))
    .leftJoin(verdict, and(eq(verdict.unitId, unit.id), eq(verdict.isCurrent, true)))
    .where(and(inArray(workOrder.state, [...states]), unitsSeenBy(actor)))
    .orderBy(asc(workOrder.week), desc(workOrder.number))
    .limit(limit);
}
