import { and, asc, count, eq, inArray, notExists, sql } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import { openStates } from '@/lib/work-orders/move-order';
import type { Db, Tx } from '../client';
import { verdict, workOrder } from '../schema';

const shown = 12;

/** That no open order serves the unit of the verdict. */
export const isNotServed = (db: Db | Tx) =>
  notExists(
    db
      .select({ one: sql`1` })
      .from(workOrder)
      .where(and(eq(workOrder.unitId, verdict.unitId), inArray(workOrder.state, openStates))),
  );

/** Units marked Book in that no open order serves: how many, and those with the earliest edge. */
export async function bookInWithoutOrder(db: Db | Tx, actor: Actor) {
  requirePermission(actor, 'plan');
  const wanted = and(eq(verdict.isCurrent, true), eq(verdict.mark, 'Book in'), isNotServed(db));
  const [all] = await db.select({ units: count() }).from(verdict).where(wanted);
  const first = await db
    .select({ unitId: verdict.unitId, why: verdict.why })
    .from(verdict)
    .where(wanted)
    .orderBy(asc(verdict.earliestEdgeOn), asc(verdict.unitId))
    .limit(shown);
  return { count: all?.units ?? 0, first };
}
