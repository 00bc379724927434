import { sql } from 'drizzle-orm';
import type { Tx } from '../client';
import type { bulletinUnit } from '../schema';

export type BulletinUnitRow = typeof bulletinUnit.$inferInsert;

const atATime = 10_000;

/** Answers and statuses of units under bulletins, new or anew: all of them as one text a statement. */
export async function putBulletinUnits(tx: Tx, rows: readonly BulletinUnitRow[]): Promise<void> {
  for (let from = 0; from < rows.length; from += atATime) {
    const told = rows.slice(from, from + atATime).map((row) => ({
      bulletin_id: row.bulletinId,
      unit_id: row.unitId,
      applicability: row.applicability,
      why: row.why,
      missing: row.missing,
      status: row.status,
      status_at: row.statusAt,
      status_by: row.statusBy,
      status_reason: row.statusReason,
      fitted_revision: row.fittedRevision,
    }));
    await tx.execute(sql`
      insert into bulletin_unit (bulletin_id, unit_id, applicability, why, missing, status,
        status_at, status_by, status_reason, fitted_revision)
      select bulletin_id, unit_id, applicability, why, missing, status, status_at, status_by,
        status_reason, fitted_revision
      from jsonb_populate_recordset(null::bulletin_unit, ${JSON.stringify(told)}::jsonb)
      on conflict (bulletin_id, unit_id) do update set applicability = excluded.applicability,
        why = excluded.why, missing = excluded.missing, status = excluded.status,
        status_at = excluded.status_at, status_by = excluded.status_by,
        status_reason = excluded.status_reason`);
  }
}
