import { and, asc, eq, isNull, sql } from 'drizzle-orm';
import type { Actor } from '@/lib/access';
import type { Mark } from '@/lib/analysis/assessment';
import { localDay } from '@/lib/calendar';
import type { DayNumber } from '@/lib/measure';
import type { Db, Tx } from '../client';
import { shed, unit, verdict } from '../schema';
import { unitsSeenBy } from './units-seen-by';

export interface OverdueShed {
  readonly id: string;
  readonly name: string;
  readonly asOf: DayNumber;
  readonly units: readonly OverdueUnit[];
}

export interface OverdueUnit {
  readonly id: string;
  readonly described: string;
  readonly mark: Mark | null;
  readonly lastReadOn: string | null;
  readonly dueOn: DayNumber;
}

/** Units whose reading is due or past due, by shed, the longest overdue first. */
export async function bayOverdue(db: Db | Tx, actor: Actor, now: Date): Promise<OverdueShed[]> {
  const dueOn = sql<number>`(${verdict.assessment} ->> 'nextReadingDue')::float8`;
  const rows = await db
    .select({
      id: unit.id,
      body: unit.body,
      make: unit.make,
      model: unit.model,
      mark: verdict.mark,
      lastReadOn: verdict.latestReadOn,
      dueOn,
      shedId: shed.id,
      shed: shed.name,
      timeZone: shed.timeZone,
    })
    .from(unit)
    .innerJoin(shed, eq(shed.id, unit.shedId))
    .innerJoin(verdict, and(eq(verdict.unitId, unit.id), eq(verdict.isCurrent, true)))
    .where(
      and(
        unitsSeenBy(actor),
        isNull(unit.leftFleetOn),
        isNull(unit.laidUpOn),
        sql`${dueOn} is not null`,
      ),
    )
    .orderBy(asc(shed.name), asc(dueOn), asc(unit.id));
  const sheds = new Map<string, OverdueShed & { units: OverdueUnit[] }>();
  for (const {
    shedId,
    shed: name,
    timeZone,
    id,
    body,
    make,
    model,
    mark,
    lastReadOn,
    ...row
  } of rows) {
    const found = sheds.get(shedId) ?? {
      id: shedId,
      name,
      asOf: localDay(now, timeZone),
      units: [],
    };
    sheds.set(shedId, found);
    if (row.dueOn > found.asOf) continue;
    const described = [body, make, model].filter(Boolean).join(' ');
    found.units.push({ id, described, mark, lastReadOn, dueOn: row.dueOn });
  }
  return [...sheds.values()];
}
