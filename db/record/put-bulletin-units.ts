import { type SQL, sql } from 'drizzle-orm';
import type { Tx } from '../client';
import type { bulletinUnit } from '../schema';

export type BulletinUnitRow = typeof bulletinUnit.$inferInsert;

const atATime = 10_000;

const texts = (values: readonly (string | null)[]): SQL => sql`${sql.param(values)}::text[]`;

/** Takes the place of a row that is there; asking whether one is costs a quarter of the whole. */
const anew = sql`on conflict (bulletin_id, unit_id) do update set applicability = excluded.applicability,
  why = excluded.why, missing = excluded.missing, status = excluded.status,
  status_at = excluded.status_at, status_by = excluded.status_by,
  status_reason = excluded.status_reason`;

/** Answers and statuses of units under bulletins, new or anew: a column of all of them a parameter. */
export async function putBulletinUnits(
  tx: Tx,
  rows: readonly BulletinUnitRow[],
  are: 'new' | 'on record',
): Promise<void> {
  for (let from = 0; from < rows.length; from += atATime) {
    const some = rows.slice(from, from + atATime);
    const columns = [
      texts(some.map((row) => row.bulletinId)),
      texts(some.map((row) => row.unitId)),
      texts(some.map((row) => row.applicability)),
      texts(some.map((row) => row.why)),
      texts(some.map((row) => JSON.stringify(row.missing))),
      texts(some.map((row) => row.status)),
      texts(some.map((row) => row.statusAt.toISOString())),
      texts(some.map((row) => row.statusBy ?? null)),
      texts(some.map((row) => row.statusReason ?? null)),
      texts(some.map((row) => row.fittedRevision ?? null)),
    ];
    await tx.execute(sql`
      insert into bulletin_unit (bulletin_id, unit_id, applicability, why, missing, status,
        status_at, status_by, status_reason, fitted_revision)
      select bulletin_id::uuid, unit_id, applicability, why, missing::jsonb, status,
        status_at::timestamptz, status_by, status_reason, fitted_revision
      from unnest(${sql.join(columns, sql`, `)}) as put (bulletin_id, unit_id, applicability, why,
        missing, status, status_at, status_by, status_reason, fitted_revision)
      ${are === 'new' ? sql`` : anew}`);
  }
}
