import { and, desc, eq, lte } from 'drizzle-orm';
import { defaultLimits, type Limits } from '@/lib/analysis/limits';
import { isoFromDay } from '@/lib/calendar';
import type { DayNumber } from '@/lib/measure';
import type { Db, Tx } from '../client';
import { limitSet } from '../schema';

/** The newest approved set that is in force on a day; the defaults where the fleet has none yet. */
export async function limitsInForce(db: Db | Tx, on: DayNumber): Promise<Limits> {
  const [row] = await db
    .select()
    .from(limitSet)
    .where(and(eq(limitSet.state, 'approved'), lte(limitSet.effectiveFrom, isoFromDay(on))))
    .orderBy(desc(limitSet.effectiveFrom), desc(limitSet.version))
    .limit(1);
  return row ? { ...defaultLimits, ...row.values, version: row.version } : defaultLimits;
}
