import { and, eq, inArray, sql } from 'drizzle-orm';
import type { Actor } from '@/lib/access';
import type { Cause } from '@/lib/analysis/assessment';
import type { Db, Tx } from '../client';
import { unit, verdict, workOrder, workTask } from '../schema';
import { isNotServed } from './book-in-without-order';
import { unitsSeenBy } from './units-seen-by';

export interface WorkWanted {
  readonly unitId: string;
  readonly why: string;
  readonly rule: string;
  readonly cause: Cause;
  readonly isServed: boolean;
  /** An open order has the unit read already. */
  readonly isToBeRead: boolean;
}

/** What the verdict of each unit asks for, and whether an open order serves it already. */
export async function workWanted(
  db: Db | Tx,
  actor: Actor,
  unitIds: readonly string[],
): Promise<WorkWanted[]> {
  if (unitIds.length === 0) return [];
  const rows = await db
    .select({
      unitId: verdict.unitId,
      why: verdict.why,
      rule: sql<string | null>`${verdict.assessment} -> 'reasons' -> 0 ->> 'rule'`,
      cause: sql<Cause>`${verdict.assessment} -> 'diagnosis' ->> 'said'`,
      isNotServed: sql<boolean>`${isNotServed(db)}`,
      isToBeRead: sql<boolean>`exists (
        select 1 from ${workOrder} join ${workTask} on ${workTask.workOrderId} = ${workOrder.id}
        where ${workOrder.unitId} = ${verdict.unitId} and ${workTask.kind} = 'reading'
          and ${workOrder.state} in ('raised', 'placed', 'begun', 'waiting'))`,
    })
    .from(verdict)
    .innerJoin(unit, eq(unit.id, verdict.unitId))
    .where(
      and(eq(verdict.isCurrent, true), inArray(verdict.unitId, [...unitIds]), unitsSeenBy(actor)),
    );
  return rows.map(({ rule, isNotServed: isFree, ...row }) => ({
    ...row,
    rule: rule ?? '',
    isServed: !isFree,
  }));
}
