import { and, asc, eq, gte, inArray, sql } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import type { Mark } from '@/lib/analysis/assessment';
import { dayFromIso, isoWeekOf, mondayOf, mondayOfIsoWeek } from '@/lib/calendar';
import type { DayNumber } from '@/lib/measure';
import { crossingByWeek } from '@/lib/planning/crossing-by-week';
import type { PartNeed, PartStock } from '@/lib/planning/part-stock';
import { defaultPlanCosts, type PlanInput, type PlanJob } from '@/lib/planning/plan';
import type { Db } from '../client';
import {
  jobTemplate,
  partStock,
  shed,
  shedClosure,
  unit,
  verdict,
  workOrder,
  workTask,
} from '../schema';

export const planWeeks = 13;
/** Gauge, lift and tools, once a visit. Own choice. */
const setUpHours = 0.3;

export interface PlannedOrder {
  readonly id: string;
  readonly number: number;
  readonly version: number;
  readonly unitId: string;
  readonly mark: Mark | null;
  readonly why: string;
  readonly state: 'raised' | 'placed' | 'begun' | 'waiting';
  readonly shedId: string;
  readonly week: string | null;
  readonly isPinned: boolean;
  readonly hours: number;
  readonly tasks: readonly string[];
  /** Early edge of whatever asks for the work. */
  readonly wantedBy: DayNumber | null;
}

export interface BayPlan {
  readonly input: PlanInput;
  readonly orders: readonly PlannedOrder[];
  readonly stock: readonly PartStock[];
  readonly needs: readonly PartNeed[];
  /** Units marked Book in that no open order serves. */
  readonly withoutOrder: readonly {
    readonly unitId: string;
    readonly why: string;
    readonly edgeOn: string | null;
  }[];
}

/** Thirteen weeks of bays and the orders that want them, as the planner takes them. */
export async function bayPlan(db: Db, actor: Actor, today: DayNumber): Promise<BayPlan> {
  requirePermission(actor, 'plan');
  const firstMonday = mondayOf(today);
  const sheds = await db.select().from(shed).orderBy(asc(shed.name));
  const closures = await db
    .select()
    .from(shedClosure)
    .where(gte(shedClosure.week, isoWeekOf(firstMonday)));
  const rows = await db
    .select({
      order: workOrder,
      ownShed: unit.shedId,
      mark: verdict.mark,
      assessment: verdict.assessment,
    })
    .from(workOrder)
    .innerJoin(unit, eq(unit.id, workOrder.unitId))
    .leftJoin(verdict, and(eq(verdict.unitId, unit.id), eq(verdict.isCurrent, true)))
    .where(inArray(workOrder.state, ['raised', 'placed', 'begun', 'waiting']))
    .orderBy(asc(workOrder.number));
  const ids = rows.map(({ order }) => order.id);
  const tasks = ids.length
    ? await db
        .select()
        .from(workTask)
        .where(and(inArray(workTask.workOrderId, ids), eq(workTask.state, 'open')))
        .orderBy(asc(workTask.position))
    : [];
  const stock = await db
    .select()
    .from(partStock)
    .orderBy(asc(partStock.partNumber), asc(partStock.revision));

  const orders: PlannedOrder[] = [];
  const jobs: PlanJob[] = [];
  const needs: PartNeed[] = [];
  for (const { order, ownShed, mark, assessment } of rows) {
    const own = tasks.filter(({ workOrderId }) => workOrderId === order.id);
    const hours = own.reduce((sum, task) => sum + task.hours, 0);
    const edges = [
      order.wantedBy === null ? null : dayFromIso(order.wantedBy),
      assessment?.earliestEdge ?? null,
    ];
    const known = edges.filter((day) => day !== null);
    const wantedBy = known.length > 0 ? Math.min(...known) : null;
    const shedId = order.shedId ?? ownShed;
    orders.push({
      id: order.id,
      number: order.number,
      version: order.version,
      unitId: order.unitId,
      mark,
      why: order.why,
      state: order.state as PlannedOrder['state'],
      shedId,
      week: order.week,
      isPinned: order.isPinned,
      hours,
      tasks: own.map(({ title }) => title),
      wantedBy,
    });
    const isSettled = order.isPinned || order.state === 'begun' || order.state === 'waiting';
    const readOn = assessment?.latest?.readOn ?? today;
    jobs.push({
      id: order.id,
      unit: order.unitId,
      kind: order.raisedFrom,
      hours,
      shedId: ownShed,
      crossing: assessment ? crossingByWeek(assessment.wear, readOn, firstMonday, planWeeks) : [],
      wantedBy,
      readyOn: order.waitingUntil === null ? null : dayFromIso(order.waitingUntil),
      blackoutWeeks: [],
      pinned: isSettled && order.week !== null ? { shedId, week: order.week } : null,
    });
    const neededOn =
      (order.week === null ? null : mondayOfIsoWeek(order.week)) ?? wantedBy ?? firstMonday;
    for (const { partNumber } of own) {
      if (partNumber) needs.push({ partNumber, revision: null, neededOn, probability: 1 });
    }
  }
  const [pumpTemplate] = await db
    .select({ partNumbers: jobTemplate.partNumbers })
    .from(jobTemplate)
    .where(eq(jobTemplate.kind, 'pump'));
  const pumpPart = pumpTemplate?.partNumbers[0];
  const served = new Set(rows.map(({ order }) => order.unitId));
  const marked = await db
    .select({
      unitId: verdict.unitId,
      mark: verdict.mark,
      why: verdict.why,
      edgeOn: verdict.earliestEdgeOn,
      horizon: sql<
        number | null
      >`(${verdict.assessment}->'wear'->>'probabilityWithinHorizon')::float8`,
    })
    .from(verdict)
    .where(and(eq(verdict.isCurrent, true), inArray(verdict.mark, ['Book in', 'Drifting'])))
    .orderBy(asc(verdict.earliestEdgeOn), asc(verdict.unitId));
  for (const { unitId, horizon, edgeOn } of marked) {
    if (served.has(unitId) || !horizon || !pumpPart) continue;
    const neededOn =
      (edgeOn === null ? null : dayFromIso(edgeOn)) ?? firstMonday + 7 * planWeeks - 1;
    needs.push({ partNumber: pumpPart, revision: null, neededOn, probability: horizon });
  }
  return {
    input: {
      firstMonday,
      weekCount: planWeeks,
      sheds: sheds.map(({ id, name, bayHoursPerWeek }) => ({
        id,
        name,
        hoursPerWeek: bayHoursPerWeek,
        closures: closures
          .filter(({ shedId }) => shedId === id)
          .map(({ week, hoursLost }) => ({ week, hoursLost })),
      })),
      jobs,
      setUpHours,
      costs: defaultPlanCosts,
    },
    orders,
    stock,
    needs,
    withoutOrder: marked
      .filter(({ unitId, mark }) => mark === 'Book in' && !served.has(unitId))
      .map(({ unitId, why, edgeOn }) => ({ unitId, why, edgeOn })),
  };
}
