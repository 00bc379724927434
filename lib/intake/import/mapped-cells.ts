import { instantOfLocalTime } from '@/lib/calendar';
import { CellReader } from '@/lib/intake/csv-cell';
import type { CsvRow } from '@/lib/intake/csv-columns';
import type { ColumnMapping } from '@/lib/intake/import/column-mapping';
import {
  type DistanceUnit,
  distanceUnits,
  type Kilometres,
  type Kilopascals,
  type PressureUnit,
  pressureUnits,
  toKilometres,
  toKilopascals,
} from '@/lib/measure';

const withOffset = /^\d{4}-\d{2}-\d{2}[T ]\d{2}:\d{2}(:\d{2}(\.\d{1,6})?)?(Z|[+-]\d{2}:\d{2})$/;
const withoutOffset = /^(\d{4}-\d{2}-\d{2})[T ](\d{2}):(\d{2})(?::(\d{2})(?:\.\d{1,6})?)?$/;

/** Cells of an imported row by field: figures in the unit and with the decimal mark that were said. */
export class MappedCells extends CellReader {
  constructor(
    row: CsvRow,
    line: number,
    private readonly mapping: ColumnMapping,
  ) {
    super(row, line);
  }

  override number(field: string): number | null {
    const text = this.row(field);
    if (this.mapping.decimal === 'point' || text === '') return super.number(field);
    if (!text.includes('.')) return super.number(field, text.replace(',', '.'));
    return this.problem(
      field,
      'It holds a point, in a file whose decimals come after a comma.',
      'Write a comma before decimals, and no mark for thousands.',
    );
  }

  /** Unit of the pressures of this row, where a column says it. */
  rowUnit(): PressureUnit | null {
    return this.word('pressure_unit', pressureUnits);
  }

  pressure(field: string, rowUnit: PressureUnit | null): Kilopascals | null {
    const figure = this.number(field);
    if (figure === null) return null;
    const unit = rowUnit ?? pressureUnits.find((one) => one === this.mapping.units[field]);
    if (unit) return toKilopascals(figure, unit);
    return this.problem(field, 'Nothing says which unit it is in.', 'Write psi, inHg or kPa.');
  }

  /** The unit that a pressure was written in, for the messages of the plausibility check. */
  unitOf(field: string, rowUnit: PressureUnit | null): PressureUnit {
    return rowUnit ?? pressureUnits.find((one) => one === this.mapping.units[field]) ?? 'kPa';
  }

  distance(field: string): Kilometres | null {
    const figure = this.number(field);
    const unit: DistanceUnit | undefined = distanceUnits.find(
      (one) => one === this.mapping.units[field],
    );
    return figure === null || !unit ? null : toKilometres(figure, unit);
  }

  /** An instant: with its offset from UTC, or as the clock of the shed showed it. */
  instant(field: string, timeZone: string): Date | null {
    const text = this.row(field);
    if (text === '') return null;
    const [, date, hour, minute, second] = withoutOffset.exec(text) ?? [];
    const time = withOffset.test(text)
      ? new Date(text.replace(' ', 'T'))
      : new Date(`${date}T${hour}:${minute}:${second ?? '00'}Z`);
    const isReal = !Number.isNaN(time.getTime()) && this.isDay(text.slice(0, 10));
    if (!isReal) {
      return this.problem(
        field,
        'It is no date and time that can be read in one way only.',
        'Write it as 2026-06-30T09:40:00-06:00, or as 2026-06-30 09:40 by the clock of the shed.',
      );
    }
    if (date === undefined) return time;
    const there = instantOfLocalTime(time.getTime(), timeZone);
    if (there instanceof Date) return there;
    return this.problem(
      field,
      there === 'skipped'
        ? 'The clocks went forward over this time: it was on no clock of the shed.'
        : 'The clocks went back: this time came twice.',
      'Write it with its offset, as 2026-06-30T09:40:00-06:00.',
    );
  }
}
