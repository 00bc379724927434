import { and, asc, count, eq, isNull, or } from 'drizzle-orm';
import { alias } from 'drizzle-orm/pg-core';
import type { Db, Tx } from '../client';
import { bulletin, bulletinUnit, person, workOrder } from '../schema';

export interface SheetBulletin {
  readonly id: string;
  readonly number: string;
  readonly issue: string;
  readonly title: string;
  readonly kind: typeof bulletin.$inferSelect.kind;
  readonly dueOn: string | null;
  readonly applicability: typeof bulletinUnit.$inferSelect.applicability;
  readonly status: typeof bulletinUnit.$inferSelect.status;
  readonly why: string;
  readonly missing: typeof bulletinUnit.$inferSelect.missing;
  readonly statusAt: Date;
  readonly statusReason: string | null;
  readonly reviewOn: string | null;
  readonly fittedRevision: string | null;
  readonly by: string | null;
  readonly workOrder: number | null;
}

export interface SheetBulletins {
  /** With a row of their own, since they cover the unit, may cover it, or did. */
  readonly weighed: readonly SheetBulletin[];
  /** How many issues in force do not apply. */
  readonly others: number;
}

/** The bulletins of a unit. The caller has asked who may see it. */
export async function unitSheetBulletins(db: Db | Tx, unitId: string): Promise<SheetBulletins> {
  const later = alias(bulletin, 'later');
  const [rest] = await db
    .select({ others: count() })
    .from(bulletin)
    .leftJoin(later, eq(later.supersedesId, bulletin.id))
    .leftJoin(
      bulletinUnit,
      and(eq(bulletinUnit.bulletinId, bulletin.id), eq(bulletinUnit.unitId, unitId)),
    )
    .where(
      and(
        isNull(later.id),
        or(isNull(bulletinUnit.status), eq(bulletinUnit.status, 'does not apply')),
      ),
    );
  return { weighed: await weighedAgainst(db, unitId), others: rest?.others ?? 0 };
}

const weighedAgainst = (db: Db | Tx, unitId: string): Promise<SheetBulletin[]> =>
  db
    .select({
      id: bulletin.id,
      number: bulletin.number,
      issue: bulletin.issue,
      title: bulletin.title,
      kind: bulletin.kind,
      dueOn: bulletin.dueOn,
      applicability: bulletinUnit.applicability,
      status: bulletinUnit.status,
      why: bulletinUnit.why,
      missing: bulletinUnit.missing,
      statusAt: bulletinUnit.statusAt,
      statusReason: bulletinUnit.statusReason,
      reviewOn: bulletinUnit.reviewOn,
      fittedRevision: bulletinUnit.fittedRevision,
      by: person.name,
      workOrder: workOrder.number,
    })
    .from(bulletinUnit)
    .innerJoin(bulletin, eq(bulletin.id, bulletinUnit.bulletinId))
    .leftJoin(person, eq(person.id, bulletinUnit.statusBy))
    .leftJoin(workOrder, eq(workOrder.id, bulletinUnit.workOrderId))
    .where(eq(bulletinUnit.unitId, unitId))
    .orderBy(asc(bulletin.number), asc(bulletin.issue));
