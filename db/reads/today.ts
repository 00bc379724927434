import { and, asc, count, desc, eq, gte, inArray, isNotNull, lt, or, sql } from 'drizzle-orm';
import type { Actor } from '@/lib/access';
import type { Mark } from '@/lib/analysis/assessment';
import { isoFromDay, isoWeekOf } from '@/lib/calendar';
import type { DayNumber } from '@/lib/measure';
import type { WorkOrderState } from '@/lib/work-orders/move-order';
import type { Db, Tx } from '../client';
import { shed, spell, unit, verdict, workOrder } from '../schema';
import { unitsSeenBy } from './units-seen-by';

export interface OrderToday {
  readonly number: number;
  readonly unitId: string;
  readonly mark: Mark | null;
  readonly why: string;
  readonly shed: string;
  readonly state: WorkOrderState;
  readonly week: string | null;
  readonly begunAt: Date | null;
  readonly waitingFor: string | null;
  readonly waitingUntil: string | null;
  readonly closedAt: Date | null;
}

export interface UnitBack {
  readonly unitId: string;
  readonly mark: Mark | null;
  readonly shed: string;
  readonly backAt: Date;
  /** What brought it back: a closed order, or a release from a spell. */
  readonly by: string;
}

export interface UnitAway {
  readonly unitId: string;
  readonly shed: string;
  readonly laidUpOn: string | null;
  readonly leftFleetOn: string | null;
  readonly lastReadOn: string | null;
}

export interface Today {
  readonly inBays: readonly OrderToday[];
  readonly proofOwed: readonly OrderToday[];
  readonly due: readonly OrderToday[];
  readonly overdue: readonly OrderToday[];
  readonly back: readonly UnitBack[];
  readonly readingsOverdue: number;
  readonly away: readonly UnitAway[];
  readonly awayCount: number;
}

const backWithinDays = 7;
const awayShown = 60;

const current = and(eq(verdict.unitId, unit.id), eq(verdict.isCurrent, true));

/** What stands in the bays, what is due and overdue this week, what came back, and what is laid up or gone. */
export async function today(db: Db | Tx, actor: Actor, day: DayNumber): Promise<Today> {
  const seen = unitsSeenBy(actor);
  const week = isoWeekOf(day);
  const since = new Date((day - backWithinDays) * 86_400_000);
  const orders = await db
    .select({
      number: workOrder.number,
      unitId: workOrder.unitId,
      mark: verdict.mark,
      why: workOrder.why,
      shed: shed.name,
      state: workOrder.state,
      week: workOrder.week,
      begunAt: workOrder.begunAt,
      waitingFor: workOrder.waitingFor,
      waitingUntil: workOrder.waitingUntil,
      closedAt: workOrder.closedAt,
    })
    .from(workOrder)
    .innerJoin(unit, eq(unit.id, workOrder.unitId))
    .innerJoin(shed, eq(shed.id, sql`coalesce(${workOrder.shedId}, ${unit.shedId})`))
    .leftJoin(verdict, current)
    .where(
      and(
        or(
          inArray(workOrder.state, ['begun', 'waiting', 'finished']),
          // Weeks written alike sort as they follow one another.
          and(eq(workOrder.state, 'placed'), sql`${workOrder.week} <= ${week}`),
          and(eq(workOrder.state, 'closed'), gte(workOrder.closedAt, since)),
        ),
        seen,
      ),
    )
    .orderBy(asc(shed.name), asc(workOrder.week), asc(workOrder.number));
  const released = await db
    .select({
      unitId: spell.unitId,
      mark: verdict.mark,
      shed: shed.name,
      backAt: spell.releasedAt,
    })
    .from(spell)
    .innerJoin(unit, eq(unit.id, spell.unitId))
    .innerJoin(shed, eq(shed.id, unit.shedId))
    .leftJoin(verdict, current)
    .where(and(gte(spell.releasedAt, since), seen))
    .orderBy(desc(spell.releasedAt));
  const [late] = await db
    .select({ units: count() })
    .from(verdict)
    .innerJoin(unit, eq(unit.id, verdict.unitId))
    .where(
      and(
        eq(verdict.isCurrent, true),
        isNotNull(verdict.mark),
        lt(verdict.readingDueOn, isoFromDay(day)),
        seen,
      ),
    );
  const isAway = or(isNotNull(unit.laidUpOn), isNotNull(unit.leftFleetOn));
  const [awayCount] = await db.select({ units: count() }).from(unit).where(and(isAway, seen));
  const away = await db
    .select({
      unitId: unit.id,
      shed: shed.name,
      laidUpOn: unit.laidUpOn,
      leftFleetOn: unit.leftFleetOn,
      lastReadOn: verdict.latestReadOn,
    })
    .from(unit)
    .innerJoin(shed, eq(shed.id, unit.shedId))
    .leftJoin(verdict, current)
    .where(and(isAway, seen))
    .orderBy(asc(sql`${unit.leftFleetOn} is not null`), asc(unit.laidUpOn), asc(unit.id))
    .limit(awayShown);
  const inState = (...states: WorkOrderState[]) =>
    orders.filter(({ state }) => states.includes(state));
  const backByRelease = released.flatMap(({ backAt, ...row }) =>
    backAt ? { ...row, backAt, by: 'released to service' } : [],
  );
  const isReleased = new Set(backByRelease.map(({ unitId }) => unitId));
  const backByOrder = inState('closed').flatMap(({ unitId, mark, shed: name, closedAt, number }) =>
    closedAt && !isReleased.has(unitId)
      ? { unitId, mark, shed: name, backAt: closedAt, by: `work order ${number} closed` }
      : [],
  );
  return {
    inBays: inState('begun', 'waiting'),
    proofOwed: inState('finished'),
    due: inState('placed').filter((order) => order.week === week),
    overdue: inState('placed').filter((order) => order.week !== week),
    back: [...backByRelease, ...backByOrder],
    readingsOverdue: late?.units ?? 0,
    away,
    awayCount: awayCount?.units ?? 0,
  };
}
