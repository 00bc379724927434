import { type SQL, sql } from 'drizzle-orm';
import type { RetentionPolicy } from '@/lib/retention/retention-policy';
import type { Tx } from '../client';

export type PurgedKind = 'readings' | 'verdicts' | 'spells' | 'orders' | 'payloads';
export type PurgedCounts = Record<PurgedKind, number>;

/** So many of the newest readings of a unit in the fleet stay: five years of quarterly ones. */
const newestKept = 20;

/** Somebody has yet to act on the unit: nothing of it goes. */
const isHeld = sql`(
  exists (select from spell s where s.unit_id = u.id and (s.released_at is null or exists (
    select from jsonb_array_elements(s.evidence) e where e ->> 'acknowledgedBy' is null)))
  or exists (select from work_order o where o.unit_id = u.id and o.state not in ('closed', 'withdrawn'))
  or exists (select from reading r join amendment a on a.reading_id = r.id
    where r.unit_id = u.id and a.state = 'asked')
  or exists (select from judging_due d where d.unit_id = u.id))`;

const yearsBefore = (now: Date, years: number) =>
  sql`(${now.toISOString()}::timestamptz - make_interval(years => ${years}::int))`;

/**
 * Deletes what the policy no longer keeps, as the owner of the schema, and counts it by unit. All but the
 * row of a unit that left long enough ago; of one in the fleet what is older than its years, never a
 * verdict in force, a reading that a spell stands on, nor its newest readings.
 */
export async function takeDue(
  tx: Tx,
  policy: RetentionPolicy,
  now: Date,
): Promise<ReadonlyMap<string, PurgedCounts>> {
  const counts = new Map<string, PurgedCounts>();
  const take = async (kind: keyof PurgedCounts | null, deletion: SQL) => {
    const answer = await tx.execute(sql`
      with gone as (${deletion}) select unit_id, count(*)::int as rows from gone group by unit_id`);
    if (kind === null) return;
    for (const { unit_id, rows } of (answer as unknown as Counted).rows) {
      const of = counts.get(unit_id) ?? noCounts();
      of[kind] += rows;
      counts.set(unit_id, of);
    }
  };
  const today = sql`${now.toISOString().slice(0, 10)}::date`;
  const months = sql`make_interval(months => ${policy.monthsAfterLeaving}::int)`;
  const left = sql`select u.id from unit u
    where (u.left_fleet_on + ${months})::date <= ${today} and not ${isHeld}`;
  const inFleet = sql`select u.id from unit u where u.left_fleet_on is null and not ${isHeld}`;

  const readingsOfLeft = sql`select id from reading where unit_id in (${left})`;
  await takeBesideReadings(take, readingsOfLeft);
  await take('spells', sql`delete from spell where unit_id in (${left}) returning unit_id`);
  await take('readings', sql`delete from reading where unit_id in (${left}) returning unit_id`);
  for (const table of ['fitment', 'bulletin_unit', 'unit_absence']) {
    await take(
      null,
      sql`delete from ${sql.identifier(table)} where unit_id in (${left}) returning unit_id`,
    );
  }
  await take('orders', sql`delete from work_order where unit_id in (${left}) returning unit_id`);
  await take('verdicts', sql`delete from verdict where unit_id in (${left}) returning unit_id`);
  await take('payloads', payloadsOf(sql`e.unit_id in (${left})`));

  const { yearsOfReadings, yearsOfVerdicts, yearsOfPayloads } = policy;
  if (yearsOfReadings !== null) {
    const old = sql`select id from (
        select r.id, r.read_at, row_number() over (partition by r.unit_id order by r.read_at desc) as newness
        from reading r where r.unit_id in (${inFleet})) ranked
      where newness > ${newestKept} and read_at < ${yearsBefore(now, yearsOfReadings)}
        and not exists (select from spell s where s.reading_id = ranked.id
          or s.proof_reading_id = ranked.id
          or s.evidence @> jsonb_build_array(jsonb_build_object('readingId', ranked.id)))`;
    await takeBesideReadings(take, old);
    await take('readings', sql`delete from reading where id in (${old}) returning unit_id`);
  }
  if (yearsOfVerdicts !== null) {
    await take(
      'verdicts',
      sql`delete from verdict where not is_current and unit_id in (${inFleet})
        and judged_at < ${yearsBefore(now, yearsOfVerdicts)} returning unit_id`,
    );
  }
  if (yearsOfPayloads !== null) {
    const isOld = sql`e.unit_id in (${inFleet}) and e.at < ${yearsBefore(now, yearsOfPayloads)}`;
    await take('payloads', payloadsOf(isOld));
  }
  return counts;
}

interface Counted {
  readonly rows: readonly { readonly unit_id: string; readonly rows: number }[];
}

const noCounts = (): PurgedCounts => ({
  readings: 0,
  verdicts: 0,
  spells: 0,
  orders: 0,
  payloads: 0,
});

const payloadsOf = (which: SQL) => sql`
  delete from ledger_payload p using ledger_entry e
  where e.entry = p.entry and ${which} returning e.unit_id`;

async function takeBesideReadings(
  take: (kind: null, deletion: SQL) => Promise<void>,
  readings: SQL,
): Promise<void> {
  for (const table of ['amendment', 'line_photo']) {
    await take(
      null,
      sql`delete from ${sql.identifier(table)} where reading_id in (${readings})
        returning reading_id::text as unit_id`,
    );
  }
}
