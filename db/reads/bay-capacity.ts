import { asc, gte } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import { isoWeekOf, mondayOf } from '@/lib/calendar';
import type { DayNumber } from '@/lib/measure';
import type { PlanShed } from '@/lib/planning/plan';
import type { Db } from '../client';
import { shed, shedClosure } from '../schema';

export const planWeeks = 13;

export interface BayCapacity {
  readonly firstMonday: DayNumber;
  readonly sheds: readonly PlanShed[];
  readonly closures: readonly (typeof shedClosure.$inferSelect)[];
}

/** Bay hours of each shed in the thirteen weeks of the plan, before any work. */
export async function bayCapacity(db: Db, actor: Actor, today: DayNumber): Promise<BayCapacity> {
  requirePermission(actor, 'plan');
  const firstMonday = mondayOf(today);
  const sheds = await db.select().from(shed).orderBy(asc(shed.name));
  const closures = await db
    .select()
    .from(shedClosure)
    .where(gte(shedClosure.week, isoWeekOf(firstMonday)))
    .orderBy(asc(shedClosure.week), asc(shedClosure.shedId));
  return {
    firstMonday,
    sheds: sheds.map(({ id, name, bayHoursPerWeek }) => ({
      id,
      name,
      hoursPerWeek: bayHoursPerWeek,
      closures: closures.filter(({ shedId }) => shedId === id),
    })),
    closures,
  };
}
