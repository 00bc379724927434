import { and, asc, eq, inArray, isNotNull, isNull, lte, or, sql } from 'drizzle-orm';
import { requirePermission } from '@/lib/access';
import { type BayList, rowOf, unitsInBay } from '@/lib/bay-card/bay-list';
import { whyInBay } from '@/lib/bay-card/why-in-bay';
import { dayFromIso, localDay } from '@/lib/calendar';
import type { Db, Tx } from '../client';
import { shed, unit, verdict, workOrder } from '../schema';
import type { SignedInPerson } from './actor-of-person';
import { describedUnit, ordersAtWork } from './bay-snapshot';
import { unitsSeenBy } from './units-seen-by';

/** Three screens of the list: by the time they are paged through, the snapshot has come. */
const most = 12;

/** The top of the list that `baySnapshot` gives, without the histories: what the page opens on. */
export async function bayList(db: Db | Tx, actor: SignedInPerson, now: Date): Promise<BayList> {
  requirePermission(actor, 'record a reading');
  const dueOn = sql<number | null>`(${verdict.assessment} ->> 'nextReadingDue')::float8`;
  const found = await db
    .select({
      unit,
      timeZone: shed.timeZone,
      order: { number: workOrder.number, state: workOrder.state, week: workOrder.week },
      lastReadOn: verdict.latestReadOn,
      dueOn,
    })
    .from(unit)
    .innerJoin(shed, eq(shed.id, unit.shedId))
    .leftJoin(verdict, and(eq(verdict.unitId, unit.id), eq(verdict.isCurrent, true)))
    .leftJoin(
      workOrder,
      and(eq(workOrder.unitId, unit.id), inArray(workOrder.state, [...ordersAtWork])),
    )
    .where(
      and(
        unitsSeenBy(actor),
        isNull(unit.leftFleetOn),
        // The day after, as dated by UTC, has begun nowhere on earth where this day has not.
        or(isNotNull(workOrder.id), lte(dueOn, localDay(now, 'UTC') + 1)),
      ),
    )
    .orderBy(asc(workOrder.number));
  // Of two orders at work on a unit the later counts.
  const units = new Map(
    found.map((row) => [
      row.unit.id,
      {
        id: row.unit.id,
        described: describedUnit(row.unit),
        lastReadOn: row.lastReadOn === null ? null : dayFromIso(row.lastReadOn),
        dueOn: row.dueOn,
        inBay: whyInBay(
          row.order ?? undefined,
          row.dueOn,
          localDay(now, row.timeZone),
          row.unit.laidUpOn !== null,
        ),
      },
    ]),
  );
  const inBay = unitsInBay([...units.values()]);
  return {
    personId: actor.personId,
    count: inBay.length,
    rows: inBay.slice(0, most).map(rowOf),
  };
}
