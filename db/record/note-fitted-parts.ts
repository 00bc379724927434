import { and, eq, inArray } from 'drizzle-orm';
import type { Actor } from '@/lib/access';
import type { FittedPart } from '@/lib/bulletins/required-parts';
import type { Tx } from '../client';
import { bulletinUnit } from '../schema';
import type { Order } from './change-order';
import { judgeBulletinsOfUnits } from './judge-bulletins';
import { moveBulletin } from './move-bulletin';

interface FittedNow {
  readonly fitted: readonly FittedPart[];
  readonly actor: Actor;
  readonly now: Date;
}

/**
 * What the parts of an order mean for bulletins: another revision than one asks for undoes it, and the
 * parts now fitted may bring the unit under one.
 */
export async function noteFittedParts(
  tx: Tx,
  order: Order,
  { fitted, actor, now }: FittedNow,
): Promise<void> {
  if (fitted.length === 0) return;
  const { unitId } = order;
  const settled = await tx
    .select({ bulletinId: bulletinUnit.bulletinId })
    .from(bulletinUnit)
    .where(
      and(eq(bulletinUnit.unitId, unitId), inArray(bulletinUnit.status, ['done', 'not needed'])),
    );
  for (const { part, revision } of fitted) {
    const event = { type: 'part fitted', part, revision } as const;
    for (const { bulletinId } of settled) {
      await moveBulletin(tx, { bulletinId, unitId, event, order, fitted, actor, now });
    }
  }
  const because = 'parts fitted';
  const judge = { touched: 'parts', isCorrection: false, because, actor, now } as const;
  await judgeBulletinsOfUnits(tx, [unitId], judge);
}
