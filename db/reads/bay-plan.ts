import { and, asc, eq, exists, gte, inArray, sql } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import type { Mark } from '@/lib/analysis/assessment';
import { dayFromIso, isoWeekOf, mondayOfIsoWeek } from '@/lib/calendar';
import type { DayNumber } from '@/lib/measure';
import { crossingByWeek } from '@/lib/planning/crossing-by-week';
import {
  defaultPlanCosts,
  type Placement,
  type PlanInput,
  type PlanJob,
} from '@/lib/planning/plan';
import { readyByParts } from '@/lib/planning/ready-by-parts';
import { openStates } from '@/lib/work-orders/move-order';
import type { Db } from '../client';
import { partStock, unit, unitAbsence, verdict, workOrder, workTask } from '../schema';
import { type BayCapacity, bayCapacity, planWeeks } from './bay-capacity';

/** Gauge, lift and tools, once a visit. Own choice. */
const setUpHours = 0.3;

export interface PlannedOrder {
  readonly id: string;
  readonly number: number;
  readonly version: number;
  readonly unitId: string;
  readonly mark: Mark | null;
  readonly why: string;
  readonly state: (typeof openStates)[number];
  readonly shedId: string;
  readonly week: string | null;
  readonly isPinned: boolean;
  readonly overfilledWhy: string | null;
  readonly hours: number;
  readonly tasks: readonly string[];
  readonly partNumbers: readonly string[];
  /** Early edge of whatever asks for the work. */
  readonly wantedBy: DayNumber | null;
}

export interface BayPlan {
  readonly input: PlanInput;
  readonly orders: readonly PlannedOrder[];
  /** Where the orders are at present. */
  readonly placement: Placement;
  readonly stock: readonly (typeof partStock.$inferSelect)[];
  readonly closures: BayCapacity['closures'];
  readonly absences: readonly (typeof unitAbsence.$inferSelect)[];
}

/** Thirteen weeks of bays and the orders that want them, as the planner takes them. `capacity` where it is read already. */
export async function bayPlan(
  db: Db,
  actor: Actor,
  today: DayNumber,
  capacity?: BayCapacity,
): Promise<BayPlan> {
  requirePermission(actor, 'plan');
  const { firstMonday, sheds, closures } = capacity ?? (await bayCapacity(db, actor, today));
  const firstWeek = isoWeekOf(firstMonday);
  const isOpen = inArray(workOrder.state, openStates);
  const rows = await db
    .select({
      order: {
        id: workOrder.id,
        number: workOrder.number,
        version: workOrder.version,
        unitId: workOrder.unitId,
        why: workOrder.why,
        state: workOrder.state,
        shedId: workOrder.shedId,
        week: workOrder.week,
        isPinned: workOrder.isPinned,
        overfilledWhy: workOrder.overfilledWhy,
        wantedBy: workOrder.wantedBy,
        waitingUntil: workOrder.waitingUntil,
        raisedFrom: workOrder.raisedFrom,
      },
      ownShed: unit.shedId,
      mark: verdict.mark,
      edgeOn: verdict.earliestEdgeOn,
      readOn: verdict.latestReadOn,
      wear: verdict.wear,
    })
    .from(workOrder)
    .innerJoin(unit, eq(unit.id, workOrder.unitId))
    .leftJoin(verdict, and(eq(verdict.unitId, unit.id), eq(verdict.isCurrent, true)))
    .where(isOpen)
    .orderBy(asc(workOrder.number));
  const tasks = await db
    .select({
      workOrderId: workTask.workOrderId,
      title: workTask.title,
      hours: workTask.hours,
      partNumber: workTask.partNumber,
    })
    .from(workTask)
    .innerJoin(workOrder, eq(workOrder.id, workTask.workOrderId))
    .where(and(isOpen, eq(workTask.state, 'open')))
    .orderBy(asc(workTask.position));
  const tasksOf = new Map(rows.map(({ order }) => [order.id, [] as typeof tasks]));
  for (const task of tasks) tasksOf.get(task.workOrderId)?.push(task);
  const absences = await db
    .select()
    .from(unitAbsence)
    .where(
      and(
        gte(unitAbsence.week, firstWeek),
        exists(
          db
            .select({ one: sql`1` })
            .from(workOrder)
            .where(and(isOpen, eq(workOrder.unitId, unitAbsence.unitId))),
        ),
      ),
    )
    .orderBy(asc(unitAbsence.unitId), asc(unitAbsence.week));
  const weeksAway = new Map(absences.map(({ unitId }) => [unitId, [] as string[]]));
  for (const { unitId, week } of absences) weeksAway.get(unitId)?.push(week);
  const stock = await db
    .select()
    .from(partStock)
    .orderBy(asc(partStock.partNumber), asc(partStock.revision));

  const orders = rows.map(({ order, ownShed, mark, edgeOn }): PlannedOrder => {
    const own = tasksOf.get(order.id) ?? [];
    const edges = [order.wantedBy, edgeOn]
      .map((day) => (day === null ? null : dayFromIso(day)))
      .filter((day) => day !== null);
    return {
      id: order.id,
      number: order.number,
      version: order.version,
      unitId: order.unitId,
      mark,
      why: order.why,
      state: order.state as PlannedOrder['state'],
      shedId: order.shedId ?? ownShed,
      week: order.week,
      isPinned: order.isPinned,
      overfilledWhy: order.overfilledWhy,
      hours: own.reduce((sum, task) => sum + task.hours, 0),
      tasks: own.map(({ title }) => title),
      partNumbers: own.flatMap(({ partNumber }) => partNumber ?? []),
      wantedBy: edges.length > 0 ? Math.min(...edges) : null,
    };
  });
  const partsReady = readyByParts(
    orders
      .filter(({ state }) => state === 'raised' || state === 'placed')
      .map(({ id, wantedBy, partNumbers }) => ({
        jobId: id,
        wantedBy,
        parts: partNumbers.map((partNumber) => ({ partNumber, revision: null })),
      })),
    stock,
    today,
  );
  const jobs = rows.map(({ order, ownShed, readOn, wear }, k): PlanJob => {
    const { id, unitId, shedId, week, hours, wantedBy } = orders[k]!;
    const isSettled = order.isPinned || order.state === 'begun' || order.state === 'waiting';
    const ready = [
      order.waitingUntil === null ? null : dayFromIso(order.waitingUntil),
      partsReady.get(id) ?? null,
    ].filter((day) => day !== null);
    return {
      id,
      unit: unitId,
      kind: order.raisedFrom,
      hours,
      shedId: ownShed,
      crossing: wear
        ? crossingByWeek(
            wear,
            (readOn === null ? null : dayFromIso(readOn)) ?? today,
            firstMonday,
            planWeeks,
          )
        : [],
      wantedBy,
      // What is ready by now is ready on the Monday of this week.
      readyOn: ready.length > 0 && Math.max(...ready) > today ? Math.max(...ready) : null,
      blackoutWeeks: weeksAway.get(unitId) ?? [],
      pinned: isSettled && week !== null ? { shedId, week } : null,
    };
  });
  return {
    input: {
      firstMonday,
      weekCount: planWeeks,
      sheds,
      jobs,
      setUpHours,
      costs: defaultPlanCosts,
    },
    orders,
    placement: new Map(
      orders.map(({ id, shedId, week }) => [
        id,
        week !== null && mondayOfIsoWeek(week) !== null ? { shedId, week } : null,
      ]),
    ),
    stock,
    closures,
    absences,
  };
}
