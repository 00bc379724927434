import type { UnitFacts } from '@/lib/analysis/reading';
import { CellReader } from '@/lib/intake/csv-cell';
import type { CsvRow } from '@/lib/intake/csv-columns';
import { failure, type Result, success } from '@/lib/result';

export const unitColumns = ['unit', 'elevation_m'] as const;

export interface UnitRow extends UnitFacts {
  readonly line: number;
  readonly shed: string | null;
  readonly buildRange: string | null;
}

/** Shore of the Dead Sea, and the highest pass that a road crosses, with room to spare. */
const leastElevation = -450;
const mostElevation = 5900;

/**
 * One line of units.csv. Required: unit and elevation_m, metres of its shed, which may lie below the
 * sea. Optional: shed, built_on, build_range, tracked_from.
 */
export function unitOfRow(row: CsvRow, line: number): Result<UnitRow> {
  const cells = new CellReader(row, line);
  const unit = cells.requiredName('unit');
  const elevation = elevationOf(row('elevation_m'), cells);
  const facts: UnitRow = {
    unit,
    line,
    elevation,
    shed: cells.name('shed'),
    buildRange: cells.name('build_range'),
    builtOn: cells.day('built_on'),
    trackedFrom: cells.day('tracked_from'),
  };
  return cells.problems.length > 0 ? failure(cells.problems) : success(facts);
}

function elevationOf(text: string, cells: CellReader): number {
  const isBelowSea = text.startsWith('-');
  const magnitude = /^-?\d{1,5}(\.\d+)?$/.test(text) ? Number(text.replace('-', '')) : Number.NaN;
  const elevation = isBelowSea ? -magnitude : magnitude;
  if (elevation >= leastElevation && elevation <= mostElevation) return elevation;
  cells.problem(
    'elevation_m',
    text === '' ? 'It is empty.' : 'It is no elevation of a shed.',
    `Write metres above the sea, ${leastElevation} to ${mostElevation}, with a point for decimals.`,
  );
  return 0;
}
