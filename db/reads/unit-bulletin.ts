import { and, eq } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import type { Db } from '../client';
import { bulletin, bulletinUnit, person, unit, workOrder } from '../schema';
import { stepsOfBulletin } from './steps-of-bulletin';

/** One bulletin on one unit with its steps, oldest first; null where the actor sees no such pair. */
export async function unitBulletin(db: Db, actor: Actor, unitId: string, bulletinId: string) {
  requirePermission(actor, 'see units');
  const [row] = await db
    .select({
      pair: bulletinUnit,
      bulletin,
      shedId: unit.shedId,
      by: person.name,
      order: workOrder.number,
    })
    .from(bulletinUnit)
    .innerJoin(bulletin, eq(bulletin.id, bulletinUnit.bulletinId))
    .innerJoin(unit, eq(unit.id, bulletinUnit.unitId))
    .leftJoin(person, eq(person.id, bulletinUnit.statusBy))
    .leftJoin(workOrder, eq(workOrder.id, bulletinUnit.workOrderId))
    .where(and(eq(bulletinUnit.unitId, unitId), eq(bulletinUnit.bulletinId, bulletinId)));
  if (!row) return null;
  requirePermission(actor, 'see units', row.shedId);
  return { ...row, steps: await stepsOfBulletin(db, row.pair) };
}
