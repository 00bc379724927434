import { sql } from 'drizzle-orm';
import type { Tx } from '../client';
import { type JudgeMarks, judgeBulletinMarks } from './judge-bulletin-marks';

/** Judged within half a second; the fleet is locked meanwhile. */
const few = 500;

/**
 * Judges the marks of a few units at once, and leaves those of more to the sweep: the yard and their
 * sheets say until then that they are being judged. Returns how many are left. Not for what stands
 * units down, which waits for nothing.
 */
export async function judgeFewMarks(tx: Tx, judge: JudgeMarks): Promise<number> {
  const { unitIds, now } = judge;
  if (unitIds.length <= few) {
    await judgeBulletinMarks(tx, judge);
    return 0;
  }
  await tx.execute(sql`
    insert into judging_due (unit_id, since, touched)
    select unit_id, ${now.toISOString()}::timestamptz, 'nothing'
    from unnest(${sql.param(unitIds)}::text[]) as units (unit_id)
    on conflict (unit_id) do nothing`);
  return unitIds.length;
}
