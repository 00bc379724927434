import { and, eq } from 'drizzle-orm';
import type { Actor } from '@/lib/access';
import type { BulletinEvent, BulletinStatus } from '@/lib/bulletins/bulletin-state';
import { nextBulletinState } from '@/lib/bulletins/bulletin-status';
import { type FittedPart, fittedInWords } from '@/lib/bulletins/required-parts';
import { dayFromIso, isoFromDay } from '@/lib/calendar';
import { failure, type Problem, type Result, success } from '@/lib/result';
import type { Tx } from '../client';
import { appendToLedger } from '../ledger';
import { bulletin, bulletinUnit } from '../schema';
import type { Order } from './change-order';

type Pair = typeof bulletinUnit.$inferSelect;

export interface BulletinMove {
  readonly bulletinId: string;
  readonly unitId: string;
  readonly event: BulletinEvent;
  /** The order that the step was made by. */
  readonly order?: Order;
  readonly fitted?: readonly FittedPart[];
  /** Null where time or the record itself moves it. */
  readonly actor: Actor | null;
  readonly now: Date;
}

export const stateOfPair = ({ status, statusReason, reviewOn }: Pair) => ({
  status,
  reason: statusReason ?? '',
  reviewOn: reviewOn === null ? null : dayFromIso(reviewOn),
});

/**
 * Makes a step of a bulletin on a unit, unit locked: the status with who, when, which work order and
 * which revision, and the same on the ledger. A step that changes nothing leaves no trace.
 */
export async function moveBulletin(
  tx: Tx,
  { bulletinId, unitId, event, order, fitted = [], actor, now }: BulletinMove,
): Promise<Result<BulletinStatus, Problem>> {
  const which = and(eq(bulletinUnit.bulletinId, bulletinId), eq(bulletinUnit.unitId, unitId));
  const [found] = await tx
    .select({ pair: bulletinUnit, terms: bulletin })
    .from(bulletinUnit)
    .innerJoin(bulletin, eq(bulletin.id, bulletinUnit.bulletinId))
    .where(which);
  if (!found) {
    return failure({
      field: 'status',
      message: 'The bulletin does not concern this unit.',
      mend: 'Load the page again.',
    });
  }
  const { pair, terms } = found;
  const next = nextBulletinState(terms, stateOfPair(pair), event);
  if (!next.ok) return next;
  const { status, reason, reviewOn } = next.value;
  if (status === pair.status) return success(status);
  const fittedRevision = fittedInWords(terms.requiredParts, fitted);
  await tx
    .update(bulletinUnit)
    .set({
      status,
      statusReason: reason,
      statusBy: actor?.personId ?? null,
      statusAt: now,
      reviewOn: reviewOn === null ? null : isoFromDay(reviewOn),
      workOrderId: order?.id ?? null,
      fittedRevision,
    })
    .where(which);
  await appendToLedger(tx, {
    kind: 'bulletin status',
    actor,
    now,
    unitId,
    payload: {
      bulletinId,
      number: terms.number,
      issue: terms.issue,
      from: pair.status,
      to: status,
      reason,
      reviewOn: reviewOn === null ? null : isoFromDay(reviewOn),
      workOrder: order?.number ?? null,
      fittedRevision,
    },
  });
  return success(status);
}
