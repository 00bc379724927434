import { type SQL, sql } from 'drizzle-orm';
import type { ImportedRow } from '@/lib/intake/import/imported-row';

/** Columns of `import_reading` behind line, digest and id, and the value of each, where named otherwise. */
const columns: readonly {
  readonly name: string;
  readonly type: 'text' | 'date' | 'timestamptz' | 'float8';
  readonly from?: string;
}[] = [
  { name: 'unit_id', type: 'text' },
  { name: 'shed_id', type: 'text' },
  { name: 'technician_id', type: 'text' },
  { name: 'technician_label', type: 'text' },
  { name: 'gauge_id', type: 'text' },
  { name: 'read_on', type: 'date' },
  { name: 'read_at', type: 'timestamptz' },
  { name: 'idle_vacuum_kpa', type: 'float8' },
  { name: 'raised_vacuum_kpa', type: 'float8' },
  { name: 'lowest_kpa', type: 'float8' },
  { name: 'recovery_s', type: 'float8' },
  { name: 'hold_loss_kpa', type: 'float8' },
  { name: 'hold_time_s', type: 'float8' },
  { name: 'barometer_kpa', type: 'float8' },
  { name: 'odometer_km', type: 'float8' },
  { name: 'line_state', type: 'text', from: 'line' },
  { name: 'pedal', type: 'text' },
  { name: 'belt', type: 'text' },
  { name: 'note', type: 'text' },
];
const names = columns.map(({ name, from = name }) => from);

/** Control characters, which no value of a reading holds: names and notes with one are refused. */
const cellBreak = '\u001F';
const rowBreak = '\u001E';

/** A reading as one text: line, digest, id, and its values; nothing stands for null. */
export const stagedReading = (
  digest: string,
  id: string,
  { line, values }: Pick<ImportedRow, 'line' | 'values'>,
): string => [line, digest, id, ...names.map((name) => values[name])].join(cellBreak);

const staged = sql.join(
  columns.map(({ type }, k) => sql.raw(`c[${k + 4}]::${type}`)),
  sql`, `,
);
const into = sql.raw(columns.map(({ name }) => name).join(', '));

/**
 * Stages readings as part of a statement that has found its `run`. One text for all of them, which
 * takes less memory than an array a column; `offset 0` has the server part each row only once.
 */
export const stagedReadings = (texts: readonly string[]): SQL => sql`, readings as (
  insert into import_reading (import_id, line, digest, id, ${into})
  select run.id, c[1]::int, c[2], c[3]::uuid, ${staged}
  from run, (select string_to_array(row, ${cellBreak}, '') as c
    from unnest(string_to_array(${texts.join(rowBreak)}, ${rowBreak})) as row offset 0) as parted)`;
