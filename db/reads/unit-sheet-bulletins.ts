import { asc, eq } from 'drizzle-orm';
import type { Db, Tx } from '../client';
import { bulletin, bulletinUnit } from '../schema';

export interface SheetBulletin {
  readonly number: string;
  readonly title: string;
  readonly kind: typeof bulletin.$inferSelect.kind;
  readonly dueOn: string | null;
  readonly applicability: typeof bulletinUnit.$inferSelect.applicability;
  readonly status: typeof bulletinUnit.$inferSelect.status;
  readonly why: string;
  readonly missing: typeof bulletinUnit.$inferSelect.missing;
  readonly statusAt: Date;
}

/** Every bulletin that was weighed against a unit. The caller has asked who may see it. */
export const unitSheetBulletins = (db: Db | Tx, unitId: string): Promise<SheetBulletin[]> =>
  db
    .select({
      number: bulletin.number,
      title: bulletin.title,
      kind: bulletin.kind,
      dueOn: bulletin.dueOn,
      applicability: bulletinUnit.applicability,
      status: bulletinUnit.status,
      why: bulletinUnit.why,
      missing: bulletinUnit.missing,
      statusAt: bulletinUnit.statusAt,
    })
    .from(bulletinUnit)
    .innerJoin(bulletin, eq(bulletin.id, bulletinUnit.bulletinId))
    .where(eq(bulletinUnit.unitId, unitId))
    .orderBy(asc(bulletin.number), asc(bulletin.issue));
