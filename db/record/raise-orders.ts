import { and, asc, eq, inArray, isNull, sql } from 'drizzle-orm';
import type { Actor } from '@/lib/access';
import type { Cause } from '@/lib/analysis/assessment';
import { failure, type Result, success } from '@/lib/result';
import type { Tx } from '../client';
import type { LedgerNote } from '../ledger';
import {
  bulletin,
  jobTemplate,
  spell,
  type TaskKind,
  verdict,
  workOrder,
  workTask,
} from '../schema';
import type { Order } from './change-order';

export interface OrderWanted {
  readonly unitId: string;
  readonly why: string;
  readonly raisedFrom: Order['raisedFrom'];
  readonly taskKinds: readonly TaskKind[];
  readonly bulletinIds?: readonly string[];
  readonly wantedBy?: string | null;
}

export type RaiseRefusal = 'unknown unit' | 'no tasks' | 'no template' | 'unknown bulletin';

export interface RaisedOrders {
  readonly orders: readonly Order[];
  /** What the caller puts in the ledger, one for each order. */
  readonly notes: readonly LedgerNote[];
}

/** Statements take some 65,000 values at most. */
const ordersAStatement = 500;

/**
 * Raises orders, one a unit, with tasks from the fleet's templates and the bulletins that they are to
 * do: all or none. The caller has locked the units and asked for the right.
 */
export async function raiseOrders(
  tx: Tx,
  { actor, wanted, now }: { actor: Actor; wanted: readonly OrderWanted[]; now: Date },
): Promise<Result<RaisedOrders, Exclude<RaiseRefusal, 'unknown unit'>>> {
  const asked = wanted.map(({ bulletinIds = [], wantedBy = null, ...one }) => ({
    ...one,
    ...{ bulletinIds, wantedBy, kinds: [...new Set(one.taskKinds)] },
  }));
  if (asked.some(({ kinds, bulletinIds }) => kinds.length + bulletinIds.length === 0)) {
    return failure('no tasks' as const);
  }
  const kinds = [...new Set(asked.flatMap((one) => one.kinds))];
  const templates = kinds.length
    ? await tx.select().from(jobTemplate).where(inArray(jobTemplate.kind, kinds))
    : [];
  if (templates.length < kinds.length) return failure('no template' as const);
  const bulletinIds = [...new Set(asked.flatMap((one) => one.bulletinIds))];
  const bulletins = bulletinIds.length
    ? await tx
        .select()
        .from(bulletin)
        .where(inArray(bulletin.id, bulletinIds))
        .orderBy(asc(bulletin.number))
    : [];
  if (bulletins.length < bulletinIds.length) return failure('unknown bulletin' as const);
  const standing = await standingOf(
    tx,
    asked.map(({ unitId }) => unitId),
  );

  const orders: Order[] = [];
  const notes: LedgerNote[] = [];
  for (let from = 0; from < asked.length; from += ordersAStatement) {
    const some = asked.slice(from, from + ordersAStatement);
    const raised = await tx
      .insert(workOrder)
      .values(
        some.map(({ unitId, why, raisedFrom, wantedBy }) => ({
          unitId,
          state: 'raised' as const,
          why,
          // An order raised while the unit is out blocks its return, from whatever page it came.
          raisedFrom:
            standing.isOut.has(unitId) && raisedFrom === 'by hand'
              ? ('spell' as const)
              : raisedFrom,
          raisedBy: actor.personId,
          raisedAt: now,
          wantedBy,
          predictedCause: standing.causeOf.get(unitId) ?? null,
        })),
      )
      .returning();
    const orderOf = new Map(raised.map((order) => [order.unitId, order]));
    const tasks = some.flatMap((one) => {
      const order = orderOf.get(one.unitId);
      if (!order) throw new Error(`the order of unit ${one.unitId} was not stored`);
      const fromTemplates = one.kinds.flatMap(
        (kind) => templates.find((template) => template.kind === kind) ?? [],
      );
      const toDo = bulletins.filter(({ id }) => one.bulletinIds.includes(id));
      orders.push(order);
      notes.push({
        kind: 'work order raised',
        actor,
        now,
        unitId: one.unitId,
        payload: {
          workOrder: order.number,
          why: one.why,
          raisedFrom: order.raisedFrom,
          tasks: one.kinds,
          bulletins: toDo.map(({ number }) => number),
        },
      });
      return [
        ...fromTemplates.map(({ kind, title, hours, partNumbers, torqueNm }) => ({
          ...{ kind, title, hours, torqueNm },
          partNumber: partNumbers[0] ?? null,
        })),
        ...toDo.map(({ id, number, title, hours }) => ({
          ...{ kind: 'bulletin' as const, hours, bulletinId: id },
          title: `${number}: ${title}`,
        })),
      ].map((task, index) => ({ ...task, workOrderId: order.id, position: index + 1 }));
    });
    await tx.insert(workTask).values(tasks);
  }
  return success({ orders, notes });
}

/** The probable cause of each unit's verdict, and which units are out of service. */
async function standingOf(tx: Tx, unitIds: readonly string[]) {
  const ids = [...unitIds];
  const current = await tx
    .select({
      unitId: verdict.unitId,
      cause: sql<Cause | null>`${verdict.assessment} -> 'diagnosis' ->> 'said'`,
    })
    .from(verdict)
    .where(and(inArray(verdict.unitId, ids), eq(verdict.isCurrent, true)));
  const open = await tx
    .select({ unitId: spell.unitId })
    .from(spell)
    .where(and(inArray(spell.unitId, ids), isNull(spell.releasedAt)));
  return {
    causeOf: new Map(current.map(({ unitId, cause }) => [unitId, cause])),
    isOut: new Set(open.map(({ unitId }) => unitId)),
  };
}
