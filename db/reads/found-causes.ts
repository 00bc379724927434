import { and, asc, count, eq, inArray, isNotNull } from 'drizzle-orm';
import type { Actor } from '@/lib/access';
import type { Cause } from '@/lib/analysis/assessment';
import type { Db, Tx } from '../client';
import { unit, workOrder } from '../schema';
import { unitsSeenBy } from './units-seen-by';

export interface FoundCause {
  /** Null where the order was raised before any diagnosis. */
  readonly predicted: Cause | null;
  readonly found: Cause;
  readonly orders: number;
}

/** What technicians found in finished work, beside what the readings had said when it was raised. */
export async function foundCauses(db: Db | Tx, actor: Actor): Promise<FoundCause[]> {
  const rows = await db
    .select({ predicted: workOrder.predictedCause, found: workOrder.foundCause, orders: count() })
    .from(workOrder)
    .innerJoin(unit, eq(unit.id, workOrder.unitId))
    .where(
      and(
        inArray(workOrder.state, ['finished', 'closed']),
        isNotNull(workOrder.foundCause),
        unitsSeenBy(actor),
      ),
    )
    .groupBy(workOrder.predictedCause, workOrder.foundCause)
    .orderBy(asc(workOrder.predictedCause), asc(workOrder.foundCause));
  return rows.flatMap(({ predicted, found, orders }) =>
    found === null ? [] : [{ predicted, found, orders }],
  );
}
