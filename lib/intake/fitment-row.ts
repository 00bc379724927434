import { type Fitment, type Part, removalReasons } from '@/lib/analysis/reading';
import { CellReader } from '@/lib/intake/csv-cell';
import type { CsvRow } from '@/lib/intake/csv-columns';
import { type DayNumber, type Kilometres, toKilometres } from '@/lib/measure';
import { failure, type Result, success } from '@/lib/result';

export const fitmentColumns = ['unit', 'fitted_on', 'part'] as const;

/** Names of parts as files have them. A repaired line or valve begins a segment, whichever of the two it was. */
export const partNames = {
  pump: 'pump',
  belt: 'belt',
  booster: 'booster',
  line: 'line',
  'vacuum line': 'line',
  'vacuum line or valve': 'line',
  'check valve': 'check valve',
} as const satisfies Record<string, Part>;

export interface FitmentRow {
  readonly unit: string;
  readonly line: number;
  readonly part: Part;
  readonly fittedOn: DayNumber;
  readonly odometer: Kilometres | null;
  readonly revision: string | null;
  /** Why the part before it came off. */
  readonly whyReplaced: Fitment['whyRemoved'];
}

/** One line of fitments.csv: a part fitted on a day in place of the one before it. */
export function fitmentOfRow(
  row: CsvRow,
  line: number,
  isOnRecord: (unit: string) => boolean,
): Result<FitmentRow> {
  const cells = new CellReader(row, line);
  const unit = cells.requiredName('unit');
  if (unit !== '' && !isOnRecord(unit)) {
    cells.problem('unit', 'No such unit is on record.', 'Add the unit, or correct the name.');
  }
  const names = Object.keys(partNames) as (keyof typeof partNames)[];
  const name = cells.word('part', names);
  if (row('part') === '') cells.problem('part', 'It is empty.', `Write ${names.join(', ')}.`);
  const miles = cells.number('odometer_mi');
  const fitted = {
    unit,
    line,
    fittedOn: cells.requiredDay('fitted_on'),
    odometer: miles === null ? null : toKilometres(miles, 'mi'),
    revision: cells.name('revision'),
    whyReplaced: cells.word('why_replaced', removalReasons),
  };
  if (cells.problems.length > 0 || name === null) return failure(cells.problems);
  return success({ ...fitted, part: partNames[name] });
}

/**
 * The lives of a unit's parts from the rows that fitted them: each fitting ends the life before it.
 * What a unit came with is in no row, and stays unknown.
 *
 * @example two belt rows, days 900 and 1500, give one belt removed on day 1500 and one fitted on it
 */
export function fitmentsOfRows(rows: readonly FitmentRow[]): readonly Fitment[] {
  const lives: Fitment[] = [];
  const current = new Map<Part, number>();
  for (const row of rows.toSorted((a, b) => a.fittedOn - b.fittedOn || a.line - b.line)) {
    const { part, fittedOn, odometer, revision, whyReplaced } = row;
    const before = current.get(part);
    if (before !== undefined) {
      lives[before] = {
        ...lives[before]!,
        removedOn: fittedOn,
        removedOdometer: odometer,
        whyRemoved: whyReplaced ?? 'other',
      };
    }
    const fitted = { part, revision, fittedOn, fittedOdometer: odometer };
    const life = { removedOn: null, removedOdometer: null, whyRemoved: null };
    current.set(part, lives.push({ ...fitted, ...life }) - 1);
  }
  return lives;
}
