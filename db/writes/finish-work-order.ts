import { and, eq, isNull } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import type { Cause } from '@/lib/analysis/assessment';
import type { Part, RemovalReason } from '@/lib/analysis/reading';
import { isoFromDay, localDay } from '@/lib/calendar';
import type { Kilometres } from '@/lib/measure';
import { failure, type Result } from '@/lib/result';
import type { Db, Tx } from '../client';
import { appendToLedger } from '../ledger';
import {
  changeOrder,
  type LockedOrder,
  lockOrder,
  moverOf,
  type Order,
  type OrderRefusal,
} from '../record/change-order';
import { followOrder } from '../record/follow-order';
import { judgeUnit } from '../record/judge-unit';
import { noteDriving } from '../record/note-driving';
import { noteFittedParts } from '../record/note-fitted-parts';
import { fitment, shed, workTask } from '../schema';
import { inTransaction } from '../transaction';

export interface SettledTask {
  readonly taskId: string;
  readonly state: 'done' | 'struck';
  readonly struckWhy: string | null;
}

/** A part fitted, and why the one before it came off. */
export interface FittedPart {
  readonly part: Part;
  readonly revision: string | null;
  readonly dateCode: string | null;
  readonly whyRemoved: RemovalReason;
}

interface FinishWorkOrder {
  readonly actor: Actor;
  readonly orderId: string;
  readonly seenVersion: number;
  readonly tasks: readonly SettledTask[];
  readonly fitted: readonly FittedPart[];
  readonly foundCause: Cause;
  readonly odometer: Kilometres | null;
  readonly now: Date;
}

/** Finishes the work: tasks settled, new lives and trends begun, the unit judged again, a proof asked for. */
export async function finishWorkOrder(
  db: Db,
  input: FinishWorkOrder,
): Promise<Result<Order, OrderRefusal>> {
  const { actor, orderId, seenVersion, foundCause, odometer, now } = input;
  return inTransaction(db, async (tx): Promise<Result<Order, OrderRefusal>> => {
    const locked = await lockOrder(tx, orderId);
    if (!locked) return failure('no such order');
    requirePermission(actor, 'work a work order', locked.shedId);
    const tasks = settled(locked, input);
    const changed = await changeOrder(
      tx,
      { ...locked, tasks },
      {
        move: 'finish',
        mover: moverOf(actor),
        seenVersion,
        now,
        change: {
          finishedBy: actor.personId,
          finishedAt: now,
          finishedOdometerKm: odometer,
          foundCause,
        },
      },
    );
    if (!changed.ok) return changed;
    await storeTasks(tx, locked, tasks);
    const { order } = locked;
    await fitParts(tx, locked, input);
    await appendToLedger(tx, {
      kind: 'work order: finish',
      actor,
      now,
      unitId: order.unitId,
      payload: {
        workOrder: order.number,
        from: order.state,
        to: changed.value.state,
        foundCause,
        odometerKm: odometer,
        fitted: input.fitted.map(({ part, revision, dateCode, whyRemoved }) => ({
          part,
          revision,
          dateCode,
          whyRemoved,
        })),
        tasks: tasks.map(({ title, state, struckWhy }) => ({ title, state, struckWhy })),
      },
    });
    await followOrder(tx, { order: changed.value, tasks, actor, now });
    await noteFittedParts(tx, changed.value, input);
    await noteDriving(tx, {
      unitId: order.unitId,
      odometer,
      seenAt: now,
      seenBy: `work order ${order.number}`,
      actor,
      now,
    });
    await judgeUnit(tx, { unitId: order.unitId, actor, now, because: 'work order finished' });
    return changed;
  });
}

function settled(
  { tasks }: LockedOrder,
  { actor, tasks: given, now }: FinishWorkOrder,
): LockedOrder['tasks'] {
  return tasks.map((task) => {
    const outcome = given.find(({ taskId }) => taskId === task.id);
    if (!outcome || task.state !== 'open') return task;
    const struckWhy = outcome.state === 'struck' ? outcome.struckWhy : null;
    return { ...task, state: outcome.state, struckWhy, doneBy: actor.personId, doneAt: now };
  });
}

async function storeTasks(
  tx: Tx,
  { tasks: before }: LockedOrder,
  after: LockedOrder['tasks'],
): Promise<void> {
  for (const task of after) {
    if (before.includes(task)) continue;
    const { state, struckWhy, doneBy, doneAt } = task;
    await tx
      .update(workTask)
      .set({ state, struckWhy, doneBy, doneAt })
      .where(eq(workTask.id, task.id));
  }
}

async function fitParts(
  tx: Tx,
  { order, shedId }: LockedOrder,
  { fitted, odometer, now }: FinishWorkOrder,
): Promise<void> {
  const [place] = await tx
    .select({ timeZone: shed.timeZone })
    .from(shed)
    .where(eq(shed.id, shedId));
  const today = isoFromDay(localDay(now, place?.timeZone ?? 'UTC'));
  for (const { part, revision, dateCode, whyRemoved } of fitted) {
    await tx
      .update(fitment)
      .set({ removedOn: today, removedOdometerKm: odometer, whyRemoved })
      .where(
        and(eq(fitment.unitId, order.unitId), eq(fitment.part, part), isNull(fitment.removedOn)),
      );
    await tx.insert(fitment).values({
      unitId: order.unitId,
      part,
      revision,
      dateCode,
      fittedOn: today,
      fittedOdometerKm: odometer,
      workOrderId: order.id,
    });
  }
}
