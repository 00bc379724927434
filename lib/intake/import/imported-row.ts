import type { CsvRow } from '@/lib/intake/csv-columns';
import type { ColumnMapping } from '@/lib/intake/import/column-mapping';
import type { MappedCells } from '@/lib/intake/import/mapped-cells';
import type { Json } from '@/lib/ledger/canonical-json';
import type { DayNumber, Metres } from '@/lib/measure';
import type { Problem, Result } from '@/lib/result';

/** What a row becomes: values by column of its table, and what makes it the same row when it comes again. */
export interface ImportedRow {
  readonly line: number;
  /** Same in every file that holds the row; its id is made of it. */
  readonly key: string;
  readonly unit: string;
  readonly values: Readonly<Record<string, Json>>;
  /** Odd values. Nobody can be asked in a file: the row stands as written. */
  readonly odd: readonly Problem[];
}

export interface ImportPlace {
  readonly shedId: string;
  readonly elevation: Metres;
  readonly timeZone: string;
}

/** What the record knows, for rows to refer to. */
export interface ImportContext {
  unitOf(id: string): ImportPlace | undefined;
  /** Whether the VIN of the unit must bear a right check digit; so it must where nothing is on record. */
  asksCheckDigit(unit: string): boolean;
  shedOf(name: string): string | undefined;
  personOf(name: string): string | undefined;
  gaugeOf(label: string): string | undefined;
  templateOf(task: string): { readonly title: string; readonly hours: number } | undefined;
  /** Noon of a day by the clock of the zone. */
  noonOf(day: DayNumber, timeZone: string): Date;
  readonly now: Date;
}

export type ParseRow = (
  row: CsvRow,
  line: number,
  mapping: ColumnMapping,
  context: ImportContext,
) => Result<ImportedRow>;

/** Units are called in capitals, whatever the file has. Names the problem where none is on record. */
export function unitOnRecord(
  cells: MappedCells,
  context: ImportContext,
): { readonly unit: string; readonly place: ImportPlace | undefined } {
  const unit = cells.requiredName('unit').toUpperCase();
  const place = context.unitOf(unit);
  if (unit !== '' && !place) {
    cells.problem('unit', 'No such unit is on record.', 'Import the unit first, or correct it.');
  }
  return { unit, place };
}
