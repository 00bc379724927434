import { and, asc, eq, inArray, isNotNull } from 'drizzle-orm';
import { may } from '@/lib/access';
import { mondayOfIsoWeek } from '@/lib/calendar';
import type { CalendarVisit } from '@/lib/outflow/calendar';
import type { Db, Tx } from '../client';
import { sha256 } from '../ledger';
import { calendarFeed, shed, unit, workOrder, workTask } from '../schema';
import { actorOfPerson } from './actor-of-person';
import { unitsSeenBy } from './units-seen-by';

/**
 * Placed work as the owner of a calendar address may see it; null where the token opens nothing: it
 * was revoked, or its owner is no longer active or may no longer see units.
 */
export async function calendarVisits(db: Db | Tx, token: string): Promise<CalendarVisit[] | null> {
  const [feed] = await db
    .select({ personId: calendarFeed.personId })
    .from(calendarFeed)
    .where(eq(calendarFeed.tokenDigest, sha256(token)));
  const actor = feed && (await actorOfPerson(db, feed.personId));
  if (!actor || !may(actor, 'see units')) return null;
  const orders = await db
    .select({
      id: workOrder.id,
      unit: workOrder.unitId,
      shedName: shed.name,
      week: workOrder.week,
      version: workOrder.version,
    })
    .from(workOrder)
    .innerJoin(unit, eq(unit.id, workOrder.unitId))
    .innerJoin(shed, eq(shed.id, workOrder.shedId))
    .where(
      and(
        inArray(workOrder.state, ['placed', 'begun', 'waiting']),
        isNotNull(workOrder.week),
        unitsSeenBy(actor),
      ),
    )
    .orderBy(asc(workOrder.week), asc(workOrder.number));
  const tasks = await db
    .select({ orderId: workTask.workOrderId, title: workTask.title, hours: workTask.hours })
    .from(workTask)
    .innerJoin(workOrder, eq(workOrder.id, workTask.workOrderId))
    .where(
      and(
        inArray(workOrder.state, ['placed', 'begun', 'waiting']),
        inArray(workTask.state, ['open', 'done']),
      ),
    )
    .orderBy(asc(workTask.position));
  return orders.flatMap(({ week, ...order }) => {
    const monday = week === null ? null : mondayOfIsoWeek(week);
    if (monday === null) return [];
    const own = tasks.filter(({ orderId }) => orderId === order.id);
    return {
      ...order,
      monday,
      hours: own.reduce((sum, { hours }) => sum + hours, 0),
      tasks: own.map(({ title }) => title),
    };
  });
}
