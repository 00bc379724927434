import 'server-only';
import {
  type BulletinRead,
  bulletinColumns,
  bulletinsOfRows,
  furtherColumns,
  rangeColumns,
} from '@/lib/intake/bulletin-rows';
import { csvColumns } from '@/lib/intake/csv-columns';
import { csvDelimiter } from '@/lib/intake/import/csv-dialect';
import { RecordSplitter } from '@/lib/intake/import/split-records';
import { failure, type Problem, type Result, success } from '@/lib/result';

const whole = (message: string, mend: string): Result<never> =>
  failure([{ field: 'file', message, mend }]);

const known: ReadonlySet<string> = new Set([
  ...bulletinColumns,
  ...furtherColumns,
  ...Object.values(rangeColumns),
]);

/** A condition in a column of another name would be left out unseen, and the bulletin cover more. */
const unknownColumns = (header: readonly string[]): Problem[] =>
  header
    .filter((cell) => cell.trim() !== '' && !known.has(cell.trim().toLowerCase()))
    .map((cell) => ({
      field: 'file',
      line: 1,
      value: cell.slice(0, 40),
      message: 'No column of a bulletin has this name.',
      mend: 'Give it the name of a column asked for, or take it out.',
    }));

/** Bulletins of a file, or each refused row by line and column. */
export function bulletinFile(bytes: Uint8Array): Result<readonly BulletinRead[]> {
  if (bytes.length === 0) return whole('The file is empty.', 'Choose the file again.');
  if (bytes.includes(0)) return whole('It is no plain text.', 'Save it as CSV in UTF-8.');
  let text: string;
  try {
    text = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return whole('It is not UTF-8.', 'Save it as CSV in UTF-8.');
  }
  const delimiter = csvDelimiter(/^(?:[^"\r\n]|"(?:[^"]|"")*")*/.exec(text)?.[0] ?? '');
  if (!delimiter.ok) return failure([delimiter.error]);
  const [header, ...body] = new RecordSplitter(delimiter.value).end(text);
  if (!header || body.length === 0) return whole('It has no rows.', 'Put one row for each range.');
  if ('broken' in header) return failure([header.broken]);
  const columns = csvColumns(header.cells, bulletinColumns);
  if (!columns.ok) return columns;
  const problems = unknownColumns(header.cells);
  const rows = body.flatMap((record) => {
    if ('broken' in record) {
      problems.push(record.broken);
      return [];
    }
    const { line, cells } = record;
    if (cells.length !== header.cells.length) {
      problems.push({
        field: 'file',
        line,
        message: `It has ${cells.length} cells where the first row has ${header.cells.length}.`,
        mend: 'Put text that holds a comma between double quotes.',
      });
    }
    return [{ row: columns.value(cells), line }];
  });
  const read = bulletinsOfRows(rows);
  problems.push(...read.problems);
  return problems.length > 0 ? failure(problems) : success(read.bulletins);
}
