import { inArray, sql } from 'drizzle-orm';
import type { ImportKind } from '@/lib/intake/import/import-fields';
import type { ImportedRow } from '@/lib/intake/import/imported-row';
import type { Problem } from '@/lib/result';
import type { Db } from '../client';
import { sha256 } from '../ledger';
import { fitment, reading, unit, workOrder } from '../schema';

const uuid = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/;

/** A row's id: its own where it bears one, otherwise made of its key, so that it is the same each time. */
export function idOfKey(kind: ImportKind, key: string): string {
  const own = key.toLowerCase();
  if (uuid.test(own)) return own;
  const hex = sha256(`${kind}|${key}`);
  return `${hex.slice(0, 8)}-${hex.slice(8, 12)}-8${hex.slice(13, 16)}-8${hex.slice(17, 20)}-${hex.slice(20, 32)}`;
}

export type Found = 'new' | 'changed' | 'on record' | Problem;

/** What the record holds of each row already. */
export type OnRecord = (db: Db, rows: readonly Candidate[]) => Promise<(row: Candidate) => Found>;

/** A row that waits for what the record says of it. Thousands wait: each is a few texts and little else. */
export interface Candidate extends ImportedRow {
  readonly id: string;
  /** SHA-256 over its id and its values. */
  readonly digest: string;
  /** As it is staged. */
  readonly text: string;
  /** As they came, NUL between them, which no file that is read holds. */
  readonly cells: string;
}

const another = (row: Candidate, field: string, message: string): Problem => ({
  field,
  line: row.line,
  message,
  mend: 'Nothing is merged. Correct the row, or what is on record.',
});

const readings: OnRecord = async (db, rows) => {
  const known = await db
    .select({ id: reading.id, digest: reading.payloadDigest })
    .from(reading)
    .where(sql`${reading.id} = any(${`{${rows.map(({ id }) => id)}}`}::uuid[])`);
  const digests = new Map(known.map(({ id, digest }) => [id, digest]));
  return (row) => {
    const digest = digests.get(row.id);
    if (digest === undefined) return 'new';
    if (digest === row.digest) return 'on record';
    return another(row, 'reading', 'Another reading is on record under this number.');
  };
};

const units: OnRecord = async (db, rows) => {
  const known = await db
    .select()
    .from(unit)
    .where(
      inArray(
        unit.id,
        rows.map(({ id }) => id),
      ),
    );
  const vins = rows.flatMap(({ values: { vin } }) => (typeof vin === 'string' ? [vin] : []));
  const bearers = await db
    .select({ id: unit.id, vin: unit.vin })
    .from(unit)
    .where(inArray(unit.vin, vins.length > 0 ? vins : ['']));
  const bearerOf = new Map(bearers.map(({ id, vin }) => [vin, id]));
  const before = new Map(known.map((row) => [row.id, row as Readonly<Record<string, unknown>>]));
  return (row) => {
    const bearer = bearerOf.get(row.values.vin as string | null);
    if (bearer !== undefined && bearer !== row.unit) {
      return another(row, 'vin', `Unit ${bearer} bears this VIN.`);
    }
    const old = before.get(row.unit);
    if (!old) return 'new';
    const isSame = Object.entries(row.values).every(([name, value]) => old[inCode(name)] === value);
    return isSame ? 'on record' : 'changed';
  };
};

/** `model_year` is `modelYear`. */
const inCode = (column: string): string =>
  column.replaceAll(/_(.)/g, (_, letter: string) => letter.toUpperCase());

const fitments: OnRecord = async (db, rows) => {
  const known = await db
    .select()
    .from(fitment)
    .where(inArray(fitment.unitId, [...new Set(rows.map(({ unit }) => unit))]));
  const before = new Map(known.map((row) => [`${row.unitId}|${row.part}|${row.fittedOn}`, row]));
  return (row) => {
    const old = before.get(row.key);
    if (!old) return 'new';
    const { revision, date_code, fitted_odometer_km } = row.values;
    const isSame =
      old.revision === revision &&
      old.dateCode === date_code &&
      old.fittedOdometerKm === fitted_odometer_km;
    if (isSame) return 'on record';
    return another(row, 'part', 'The same part is on record as fitted that day, with other facts.');
  };
};

const workOrders: OnRecord = async (db, rows) => {
  const known = await db
    .select({ id: workOrder.id, unitId: workOrder.unitId })
    .from(workOrder)
    .where(
      inArray(
        workOrder.id,
        rows.map(({ id }) => id),
      ),
    );
  const unitOf = new Map(known.map(({ id, unitId }) => [id, unitId]));
  return (row) => {
    const unitId = unitOf.get(row.id);
    if (unitId === undefined) return 'new';
    // An order lives on once it is on record; the file no longer knows better.
    if (unitId === row.unit) return 'on record';
    return another(row, 'order', `An order of this number is on record for unit ${unitId}.`);
  };
};

export const onRecord: Readonly<Record<ImportKind, OnRecord>> = {
  readings,
  units,
  fitments,
  'work orders': workOrders,
};
