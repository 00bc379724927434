import 'server-only';
import { type ColumnsHeld, leftOut, unsaidColumns } from '@/lib/intake/bulletin-columns';
import { type BulletinRead, bulletinColumns, bulletinsOfRows } from '@/lib/intake/bulletin-rows';
import { csvColumns } from '@/lib/intake/csv-columns';
import { csvDelimiter } from '@/lib/intake/import/csv-dialect';
import { type CsvRecord, RecordSplitter } from '@/lib/intake/import/split-records';
import { failure, type Problem, type Result, success } from '@/lib/result';

const whole = (message: string, mend: string): Result<never> =>
  failure([{ field: 'file', message, mend }]);

export interface BulletinTable {
  readonly header: readonly string[];
  readonly records: readonly CsvRecord[];
}

/** The rows of a file as they stand, or why it cannot be read at all. */
export function bulletinTable(bytes: Uint8Array): Result<BulletinTable> {
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
  return success({ header: header.cells, records: body });
}

/** Bulletins of a file whose columns hold what was said, or each refused row by line and column. */
export function bulletinsOfTable(
  { header, records }: BulletinTable,
  held: ColumnsHeld,
): Result<readonly BulletinRead[]> {
  const names = header.map((_, index) => (held[index] === leftOut ? '' : (held[index] ?? '')));
  const unsaid = unsaidColumns(header, held);
  const columns = csvColumns(names, bulletinColumns);
  if (!columns.ok) return failure([...unsaid, ...columns.error]);
  if (unsaid.length > 0) return failure(unsaid);
  const problems: Problem[] = [];
  const rows = records.flatMap((record) => {
    if ('broken' in record) {
      problems.push(record.broken);
      return [];
    }
    const { line, cells } = record;
    if (cells.length !== header.length) {
      problems.push({
        field: 'file',
        line,
        message: `It has ${cells.length} cells where the first row has ${header.length}.`,
        mend: 'Put text that holds a comma between double quotes.',
      });
    }
    return [{ row: columns.value(cells), line }];
  });
  const read = bulletinsOfRows(rows);
  problems.push(...read.problems);
  return problems.length > 0 ? failure(problems) : success(read.bulletins);
}
