import { z } from 'zod';
import { type ImportKind, importFields } from '@/lib/intake/import/import-fields';
import { type DistanceUnit, distanceUnits, type PressureUnit, pressureUnits } from '@/lib/measure';
import type { Problem } from '@/lib/result';

export const encodings = ['utf-8', 'windows-1252'] as const;
export const decimalMarks = ['point', 'comma'] as const;

/** How the columns of a file are to be read: what a person confirmed, or what their names say. */
export const columnMapping = z.strictObject({
  /** Header of the file by field; a field left out is in no column. */
  columns: z.record(z.string().max(40), z.string().max(200)),
  /** Unit of measure by field. */
  units: z.record(z.string().max(40), z.enum([...pressureUnits, ...distanceUnits])),
  decimal: z.enum(decimalMarks),
  encoding: z.enum(encodings),
});
export type ColumnMapping = z.infer<typeof columnMapping>;

/** `Issued on ` is `issued_on`. */
export const plainName = (text: string): string =>
  text
    .trim()
    .toLowerCase()
    .replaceAll(/[^\p{L}\p{N}]+/gu, '_')
    .replaceAll(/^_|_$/g, '');

const unitNames: ReadonlyMap<string, PressureUnit | DistanceUnit> = new Map([
  ...[...pressureUnits, ...distanceUnits].map((unit) => [unit.toLowerCase(), unit] as const),
  ['miles', 'mi'],
]);

/** `Idle vacuum (psi)` is `idle_vacuum` and psi. */
function nameAndUnit(header: string) {
  const name = plainName(header);
  const cut = name.lastIndexOf('_');
  const unit = cut > 0 ? unitNames.get(name.slice(cut + 1)) : undefined;
  return unit ? { name, bare: name.slice(0, cut), unit } : { name, bare: name, unit: null };
}

/**
 * What the header alone says of its columns: fields by their own names or usual other ones, and units
 * of measure at the end of a name. A column that says nothing is left out, never guessed by its place.
 *
 * @example guessMapping('readings', ['Unit', 'Idle (psi)']).units is { idle_vacuum: 'psi' }
 */
export function guessMapping(kind: ImportKind, header: readonly string[]): ColumnMapping {
  const columns: Record<string, string> = {};
  const units: Record<string, PressureUnit | DistanceUnit> = {};
  const named = header.map((text) => ({ text, ...nameAndUnit(text) }));
  for (const field of importFields[kind]) {
    const names = [field.name, ...(field.otherNames ?? [])];
    const found =
      named.find(({ name }) => names.includes(name)) ??
      (field.measure && named.find(({ bare }) => names.includes(bare)));
    if (!found) continue;
    columns[field.name] = found.text;
    const fits = (
      field.measure === 'pressure' ? pressureUnits : distanceUnits
    ) as readonly string[];
    if (field.measure && found.unit && fits.includes(found.unit)) units[field.name] = found.unit;
  }
  return { columns, units, decimal: 'point', encoding: 'utf-8' };
}

/** What a person must still say before a file can be read by this mapping. */
export function mappingProblems(
  kind: ImportKind,
  header: readonly string[],
  { columns, units }: ColumnMapping,
): readonly Problem[] {
  const problems: Problem[] = [];
  const add = (field: string, message: string, mend: string) =>
    problems.push({ field, message, mend });
  const seen = new Map<string, string>();
  for (const [k, name] of header.entries()) {
    if (name.trim() !== '' && header.indexOf(name) !== k) {
      add('file', `The column ${name} stands twice.`, 'Give each column a name of its own.');
    }
  }
  for (const field of importFields[kind]) {
    const column = columns[field.name];
    if (column === undefined) {
      if (field.isRequired) add(field.name, `No column holds ${field.label}.`, 'Choose one.');
      continue;
    }
    if (!header.includes(column)) {
      add(field.name, `The file has no column ${column}.`, 'Choose another.');
    }
    const other = seen.get(column);
    if (other) add(field.name, `${column} is taken for two things.`, 'Choose each column once.');
    seen.set(column, field.name);
    const unit = units[field.name];
    const isByRow = field.measure === 'pressure' && columns.pressure_unit !== undefined;
    const fits = field.measure === 'distance' ? distanceUnits : pressureUnits;
    if (field.measure && !isByRow && !(fits as readonly (string | undefined)[]).includes(unit)) {
      add(field.name, `${column} says no unit of measure.`, 'Choose the unit that it is in.');
    }
  }
  if (kind === 'readings' && !columns.read_on && !columns.read_at) {
    add('read_on', 'No column says when it was read.', 'Choose one.');
  }
  return problems;
}
