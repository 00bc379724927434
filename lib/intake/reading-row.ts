import { checkPlausibility, type Question } from '@/lib/analysis/plausibility';
import { lineStates, pedalStates, type Reading } from '@/lib/analysis/reading';
import { CellReader } from '@/lib/intake/csv-cell';
import type { CsvRow } from '@/lib/intake/csv-columns';
import {
  type Metres,
  type PressureUnit,
  pressureUnits,
  toKilometres,
  toKilopascals,
} from '@/lib/measure';
import { failure, type Result, success } from '@/lib/result';

export const readingColumns = [
  'reading',
  'unit',
  'read_on',
  'odometer_mi',
  'pressure_unit',
  'idle_vacuum',
  'lowest',
  'recovery_s',
  'hold_minutes',
  'hold_loss',
  'line',
] as const;

export interface ReadingRow {
  readonly unit: string;
  readonly line: number;
  readonly reading: Reading;
  /** Orders the readings of one day. */
  readonly readAt: string | null;
  readonly note: string | null;
  /** Odd values. Nobody can be asked in a file: the row stands as written, and this is said of it. */
  readonly questions: readonly Question[];
}

/** Column in which each field of the plausibility check stands. */
const columnOf: Record<string, string> = {
  idle: 'idle_vacuum',
  raised: 'raised_vacuum',
  recovery: 'recovery_s',
  holdLoss: 'hold_loss',
  holdTime: 'hold_minutes',
  barometer: 'barometer_kpa',
  odometer: 'odometer_mi',
};

/**
 * One line of readings.csv: pressures in the row's own pressure_unit, to SI. Required columns as in
 * `readingColumns`; also read where present: technician, barometer_kpa, read_at, gauge,
 * raised_vacuum, pedal, note. An empty cell is "could not". `elevationOf` knows the units on record.
 * Values that cannot be true refuse the row, naming line, column, value and mend.
 */
export function readingOfRow(
  row: CsvRow,
  line: number,
  elevationOf: (unit: string) => Metres | undefined,
): Result<ReadingRow> {
  const cells = new CellReader(row, line);
  const unit = cells.requiredName('unit');
  const elevation = elevationOf(unit);
  if (unit !== '' && elevation === undefined) {
    cells.problem('unit', 'No such unit is on record.', 'Add the unit, or correct the name.');
  }
  const { reading, keyedIn } = readingFrom(cells, line);
  const readAt = readAtOf(row('read_at'), cells);
  const note = row('note') === '' ? null : row('note');
  if (cells.problems.length > 0 || elevation === undefined) return failure(cells.problems);
  const { problems, questions } = checkPlausibility(
    { ...reading, keyedIn },
    { elevation, expectedIdleSle: null, lastOdometer: null },
  );
  if (problems.length > 0)
    return failure(problems.map((problem) => ({ ...inColumn(problem), line })));
  return success({ unit, line, reading, readAt, note, questions: questions.map(inColumn) });
}

function readingFrom(cells: CellReader, line: number): { reading: Reading; keyedIn: PressureUnit } {
  const keyedIn = cells.word('pressure_unit', pressureUnits);
  const figures = {
    idle: cells.number('idle_vacuum'),
    raised: cells.number('raised_vacuum'),
    lowest: cells.number('lowest'),
    holdLoss: cells.number('hold_loss'),
  };
  if (keyedIn === null && Object.values(figures).some((figure) => figure !== null)) {
    const isNamed = cells.problems.some(({ field }) => field === 'pressure_unit');
    if (!isNamed) cells.problem('pressure_unit', 'It is empty.', 'Write psi, inHg or kPa.');
  }
  const unit = keyedIn ?? 'kPa';
  const pressure = (figure: number | null) =>
    figure === null ? null : toKilopascals(figure, unit);
  const minutes = cells.number('hold_minutes');
  const miles = cells.number('odometer_mi');
  return {
    keyedIn: unit,
    reading: {
      id: cells.requiredName('reading'),
      readOn: cells.requiredDay('read_on'),
      entry: line,
      idle: pressure(figures.idle),
      raised: pressure(figures.raised),
      lowest: pressure(figures.lowest),
      holdLoss: pressure(figures.holdLoss),
      holdTime: minutes === null ? null : minutes * 60,
      recovery: cells.number('recovery_s'),
      line: cells.word('line', lineStates) ?? 'not seen',
      pedal: cells.word('pedal', pedalStates),
      belt: null,
      barometer: cells.number('barometer_kpa'),
      odometer: miles === null ? null : toKilometres(miles, 'mi'),
      technician: cells.name('technician'),
      gauge: cells.name('gauge'),
    },
  };
}

const instant = /^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}(:\d{2}(\.\d+)?)?(Z|[+-]\d{2}:\d{2})$/;

/** An instant as comparable text, or null. */
function readAtOf(text: string, cells: CellReader): string | null {
  if (text === '') return null;
  const time = instant.test(text) ? new Date(text).getTime() : Number.NaN;
  if (!Number.isNaN(time)) return new Date(time).toISOString();
  return cells.problem(
    'read_at',
    'It is no instant.',
    'Write it as 2026-06-30T09:40:00-06:00, or leave it empty.',
  );
}

const inColumn = <Said extends { readonly field: string }>(said: Said): Said => ({
  ...said,
  field: columnOf[said.field] ?? said.field,
});
