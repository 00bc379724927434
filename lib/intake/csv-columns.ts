import { failure, type Problem, type Result, success } from '@/lib/result';

/** A row by column name; a column that the file lacks is empty. */
export type CsvRow = (column: string) => string;

/**
 * Finds the columns of a file by the names in its first row, in any order and letter case. Columns
 * that nobody asked for are left alone. A missing or doubled column is a problem of the whole file.
 *
 * @example csvColumns(['Unit', 'shed'], ['unit']) finds unit at 0
 */
export function csvColumns(
  header: readonly string[],
  required: readonly string[],
): Result<(cells: readonly string[]) => CsvRow> {
  const at = new Map<string, number>();
  const problems: Problem[] = [];
  header.forEach((cell, k) => {
    const name = cell.trim().toLowerCase();
    if (at.has(name) && name !== '') {
      problems.push({
        field: name,
        line: 1,
        message: `The column ${name} stands twice.`,
        mend: 'Keep one of the two.',
      });
    }
    at.set(name, k);
  });
  for (const name of required) {
    if (at.has(name)) continue;
    problems.push({
      field: name,
      line: 1,
      message: `There is no column ${name}.`,
      mend: 'Add it to the first row; leave a cell empty where nothing was measured.',
    });
  }
  if (problems.length > 0) return failure(problems);
  return success((cells) => (column) => {
    const k = at.get(column);
    return k === undefined ? '' : (cells[k] ?? '').trim();
  });
}
