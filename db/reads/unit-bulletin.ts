import { and, asc, eq } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import type { Db } from '../client';
import {
  bulletin,
  bulletinUnit,
  ledgerEntry,
  ledgerPayload,
  person,
  unit,
  workOrder,
} from '../schema';

export interface BulletinStep {
  readonly at: Date;
  readonly by: string | null;
  readonly from: string | null;
  readonly to: string;
  readonly reason: string | null;
  readonly workOrder: number | null;
  readonly fittedRevision: string | null;
}

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
  return { ...row, steps: await stepsOf(db, unitId, bulletinId) };
}

async function stepsOf(db: Db, unitId: string, bulletinId: string): Promise<BulletinStep[]> {
  const noted = await db
    .select({ at: ledgerEntry.at, by: person.name, canonical: ledgerPayload.canonical })
    .from(ledgerEntry)
    .innerJoin(ledgerPayload, eq(ledgerPayload.entry, ledgerEntry.entry))
    .leftJoin(person, eq(person.id, ledgerEntry.personId))
    .where(and(eq(ledgerEntry.unitId, unitId), eq(ledgerEntry.kind, 'bulletin status')))
    .orderBy(asc(ledgerEntry.entry));
  return noted.flatMap(({ at, by, canonical }) => {
    const {
      bulletinId: of,
      from,
      to,
      reason,
      workOrder: order,
      fittedRevision,
    } = JSON.parse(canonical) as BulletinStep & { readonly bulletinId: string };
    return of === bulletinId
      ? [{ at, by, from, to, reason, workOrder: order, fittedRevision }]
      : [];
  });
}
