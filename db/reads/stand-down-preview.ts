import { and, asc, eq, isNull } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import { previewStandDown, type StandDownPreview } from '@/lib/bulletins/stand-down-by-bulletin';
import type { Db, Tx } from '../client';
import { sha256 } from '../ledger';
import { bulletinUnit, unit } from '../schema';

/** Units that the approval of a bulletin would stand down, and a digest that says which were seen. */
export async function standDownPreview(
  db: Db | Tx,
  actor: Actor,
  bulletinId: string,
): Promise<StandDownPreview & { readonly digest: string }> {
  requirePermission(actor, 'see units');
  const rows = await db
    .select({ unit: bulletinUnit.unitId, status: bulletinUnit.status })
    .from(bulletinUnit)
    .innerJoin(unit, and(eq(unit.id, bulletinUnit.unitId), isNull(unit.leftFleetOn)))
    .where(eq(bulletinUnit.bulletinId, bulletinId))
    .orderBy(asc(bulletinUnit.unitId));
  const preview = previewStandDown(rows);
  return { ...preview, digest: sha256(preview.standDown.join('\n')) };
}
