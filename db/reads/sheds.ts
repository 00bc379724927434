import { and, asc, count, eq, isNull } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import type { Db } from '../client';
import { gauge, shed, unit } from '../schema';

export type GaugeListed = Omit<typeof gauge.$inferSelect, 'retiredOn'>;
export interface ShedListed {
  readonly details: typeof shed.$inferSelect;
  /** In the fleet. */
  readonly units: number;
  readonly gauges: readonly GaugeListed[];
}

/** Every shed with the number of its units and the gauges in use. */
export async function sheds(db: Db, actor: Actor): Promise<readonly ShedListed[]> {
  requirePermission(actor, 'change sheds');
  const rows = await db
    .select({ details: shed, units: count(unit.id) })
    .from(shed)
    .leftJoin(unit, and(eq(unit.shedId, shed.id), isNull(unit.leftFleetOn)))
    .groupBy(shed.id)
    .orderBy(asc(shed.name));
  const gauges = await db
    .select()
    .from(gauge)
    .where(isNull(gauge.retiredOn))
    .orderBy(asc(gauge.label));
  return rows.map((row) => ({
    ...row,
    gauges: gauges.filter(({ shedId }) => shedId === row.details.id),
  }));
}
