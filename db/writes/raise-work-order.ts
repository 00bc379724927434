import { asc, inArray } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import { failure, type Result, success } from '@/lib/result';
import type { Db } from '../client';
import { appendToLedger } from '../ledger';
import type { Order } from '../record/change-order';
import { bulletin, jobTemplate, type TaskKind, workOrder, workTask } from '../schema';
import { inTransaction, lockUnit } from '../transaction';

interface RaiseWorkOrder {
  readonly actor: Actor;
  readonly unitId: string;
  readonly why: string;
  readonly raisedFrom: Order['raisedFrom'];
  readonly taskKinds: readonly TaskKind[];
  readonly bulletinIds?: readonly string[];
  readonly wantedBy?: string | null;
  readonly now: Date;
}

/** Raises an order with tasks from the fleet's templates and the bulletins that it is to do. */
export async function raiseWorkOrder(
  db: Db,
  {
    actor,
    unitId,
    why,
    raisedFrom,
    taskKinds,
    bulletinIds = [],
    wantedBy = null,
    now,
  }: RaiseWorkOrder,
): Promise<Result<Order, 'unknown unit' | 'no tasks' | 'no template' | 'unknown bulletin'>> {
  if (taskKinds.length + bulletinIds.length === 0) return failure('no tasks' as const);
  return inTransaction(db, async (tx) => {
    const unit = await lockUnit(tx, unitId);
    if (!unit) return failure('unknown unit' as const);
    requirePermission(actor, 'raise a work order', unit.shedId);
    const kinds = [...new Set(taskKinds)];
    const templates = kinds.length
      ? await tx.select().from(jobTemplate).where(inArray(jobTemplate.kind, kinds))
      : [];
    if (templates.length < kinds.length) return failure('no template' as const);
    const bulletins = bulletinIds.length
      ? await tx
          .select()
          .from(bulletin)
          .where(inArray(bulletin.id, [...bulletinIds]))
          .orderBy(asc(bulletin.number))
      : [];
    if (bulletins.length < bulletinIds.length) return failure('unknown bulletin' as const);
    const current = await tx.query.verdict.findFirst({
      where: (row, { and, eq }) => and(eq(row.unitId, unitId), eq(row.isCurrent, true)),
      columns: { assessment: true },
    });
    const [order] = await tx
      .insert(workOrder)
      .values({
        unitId,
        state: 'raised',
        why,
        raisedFrom,
        raisedBy: actor.personId,
        raisedAt: now,
        wantedBy,
        predictedCause: current?.assessment.diagnosis.said ?? null,
      })
      .returning();
    if (!order) throw new Error('the order was not stored');
    const fromTemplates = kinds.flatMap((kind) => templates.find((one) => one.kind === kind) ?? []);
    await tx.insert(workTask).values([
      ...fromTemplates.map((template, index) => ({
        workOrderId: order.id,
        position: index + 1,
        kind: template.kind,
        title: template.title,
        hours: template.hours,
        partNumber: template.partNumbers[0] ?? null,
        torqueNm: template.torqueNm,
      })),
      ...bulletins.map((one, index) => ({
        workOrderId: order.id,
        position: fromTemplates.length + index + 1,
        kind: 'bulletin' as const,
        title: `${one.number}: ${one.title}`,
        hours: one.hours,
        bulletinId: one.id,
      })),
    ]);
    await appendToLedger(tx, {
      kind: 'work order raised',
      actor,
      now,
      unitId,
      payload: {
        workOrder: order.number,
        why,
        raisedFrom,
        tasks: kinds,
        bulletins: bulletins.map(({ number }) => number),
      },
    });
    return success(order);
  });
}
