import { type SQL, sql } from 'drizzle-orm';
import type { Actor } from '@/lib/access';
import type { ImportKind } from '@/lib/intake/import/import-fields';
import type { Tx } from '../client';
import { type CheckUnderWay, stagedLines } from '../imports/staged-lines';

interface PutImported {
  readonly importId: string;
  readonly actor: Actor;
  readonly now: Date;
  /** To be told how many rows are on record. */
  readonly report: (done: number) => Promise<unknown>;
  readonly underWay: CheckUnderWay | undefined;
}

/** Returns how many rows it put. */
type Put = (tx: Tx, input: PutImported) => Promise<number>;

/** Runs a statement; gives how many rows it wrote, which the two drivers name in their own way. */
async function written(tx: Tx, statement: SQL): Promise<number> {
  const answer = (await tx.execute(statement)) as unknown as {
    readonly rowCount?: number;
    readonly affectedRows?: number;
  };
  return answer.rowCount ?? answer.affectedRows ?? 0;
}

/** Rows of the import that go on record, as rows of their table. */
const rowsOf = (importId: string, table: string) => sql`
  import_row i cross join lateral jsonb_populate_record(null::${sql.identifier(table)}, i.row) r
  where i.import_id = ${importId} and i.outcome = 'new'`;

const readings: Put = async (tx, { importId, now, report, underWay }) => {
  // Rows come as they lie, which is by line: a look begins at the first, not where another one is.
  await tx.execute(sql`set local synchronize_seqscans = off`);
  let done = 0;
  let after = 0;
  for await (const line of stagedLines(tx, importId, underWay)) {
    await report(done);
    if (line === after) continue;
    done += await written(
      tx,
      sql`
      insert into reading (id, unit_id, shed_id, technician_id, technician_label, gauge_id, read_on,
        read_at, received_at, idle_vacuum_kpa, raised_vacuum_kpa, lowest_kpa, recovery_s,
        is_recovery_keyed, hold_loss_kpa, hold_time_s, line, pedal, belt, barometer_kpa, odometer_km,
        note, source, payload_digest)
      select id, unit_id, shed_id, technician_id, technician_label, gauge_id, read_on, read_at,
        ${now.toISOString()}::timestamptz, idle_vacuum_kpa, raised_vacuum_kpa, lowest_kpa, recovery_s,
        true, hold_loss_kpa, hold_time_s, line_state, pedal, belt, barometer_kpa, odometer_km, note,
        'import', digest
      from import_reading i
      where import_id = ${importId} and i.line > ${after} and i.line <= ${line}`,
    );
    after = line;
  }
  return done;
};

const unitColumns = [
  'shed_id',
  'vin',
  'is_check_digit_required',
  'make',
  'model',
  'model_year',
  'body',
  'engine',
  'built_year',
  'built_month',
  'built_day',
  'tire_size',
  'odometer_unit',
  'tracked_from',
].map((name) => sql.identifier(name));

const units: Put = async (tx, { importId }) => {
  const listed = (of: (name: ReturnType<typeof sql.identifier>) => SQL) =>
    sql.join(unitColumns.map(of), sql`, `);
  const added = await written(
    tx,
    sql`
    insert into unit (id, ${listed((name) => sql`${name}`)})
    select r.id, ${listed((name) => sql`r.${name}`)} from ${rowsOf(importId, 'unit')} order by r.id`,
  );
  // A column that the file does not have keeps what is on record.
  const changed = await written(
    tx,
    sql`
    update unit set ${listed((name) => sql`${name} = r.${name}`)}
    from (select r.* from import_row i join unit u on u.id = i.row ->> 'id'
      cross join lateral jsonb_populate_record(u, i.row) r
      where i.import_id = ${importId} and i.outcome = 'changed') r
    where unit.id = r.id`,
  );
  return added + changed;
};

/** Each fitting ends the life before it; one that is dated amid lives on record parts them. */
const fitments: Put = async (tx, { importId }) => {
  const coming = sql`select r.id, r.unit_id, r.part, r.fitted_on, r.fitted_odometer_km, r.revision,
    r.date_code, r.why_removed as why_replaced from ${rowsOf(importId, 'fitment')}`;
  await tx.execute(sql`
    with coming as (${coming}), ended as (
      select distinct on (f.id) f.id, c.fitted_on, c.fitted_odometer_km, c.why_replaced
      from fitment f join coming c on c.unit_id = f.unit_id and c.part = f.part
      where (f.fitted_on is null or f.fitted_on < c.fitted_on)
        and (f.removed_on is null or f.removed_on > c.fitted_on)
      order by f.id, c.fitted_on)
    update fitment f set removed_on = e.fitted_on, removed_odometer_km = e.fitted_odometer_km,
      why_removed = e.why_replaced
    from ended e where f.id = e.id`);
  return written(
    tx,
    sql`
    with coming as (${coming}), lives as (
      select id, unit_id, part, fitted_on, fitted_odometer_km, why_replaced, true as is_new
      from coming
      union all
      select f.id, f.unit_id, f.part, f.fitted_on, f.fitted_odometer_km, 'other', false
      from fitment f where f.fitted_on is not null
        and (f.unit_id, f.part) in (select unit_id, part from coming)
    ), ended as (
      select id, is_new, lead(fitted_on) over life as removed_on,
        lead(fitted_odometer_km) over life as removed_odometer_km,
        lead(why_replaced) over life as why_removed
      from lives window life as (partition by unit_id, part order by fitted_on))
    insert into fitment (id, unit_id, part, revision, date_code, fitted_on, fitted_odometer_km,
      removed_on, removed_odometer_km, why_removed)
    select c.id, c.unit_id, c.part, c.revision, c.date_code, c.fitted_on, c.fitted_odometer_km,
      e.removed_on, e.removed_odometer_km, e.why_removed
    from coming c join ended e on e.id = c.id and e.is_new`,
  );
};

const workOrders: Put = async (tx, { importId, actor }) => {
  const orders = await written(
    tx,
    sql`
    insert into work_order (id, unit_id, state, why, raised_from, raised_by, raised_at, wanted_by,
      finished_by, finished_at, finished_odometer_km, closed_at)
    select r.id, r.unit_id, r.state, r.why, 'by hand', ${actor.personId}, r.raised_at, r.wanted_by,
      r.finished_by, r.finished_at, r.finished_odometer_km, r.closed_at
    from ${rowsOf(importId, 'work_order')}
    order by i.line`,
  );
  await tx.execute(sql`
    insert into work_task (work_order_id, position, kind, title, hours, state, done_by, done_at)
    select (i.row ->> 'id')::uuid, t.position, t.task ->> 'kind', t.task ->> 'title',
      (t.task ->> 'hours')::float8,
      case when i.row ->> 'state' = 'closed' then 'done' else 'open' end,
      i.row ->> 'finished_by', (i.row ->> 'finished_at')::timestamptz
    from import_row i
      cross join lateral jsonb_array_elements(i.row -> 'tasks') with ordinality t (task, position)
    where i.import_id = ${importId} and i.outcome = 'new'`);
  return orders;
};

/** Puts the checked rows of an import on record, each kind in a few statements for the whole file. */
export const putImported: Readonly<Record<ImportKind, Put>> = {
  units,
  readings,
  fitments,
  'work orders': workOrders,
};
