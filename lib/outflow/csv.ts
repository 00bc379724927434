export type CsvCell = string | number | boolean | null;

/** A spreadsheet takes a text that begins with one of these for a formula. */
const beginsFormula = /^[=+\-@\t\r]/;
const needsQuotes = /[",\r\n]/;

/**
 * One cell. A text that a spreadsheet would compute is defused with a leading apostrophe; a figure is
 * written as it is, its sign included. Null is an empty cell.
 *
 * @example csvCell('=1+1') is `'=1+1` and csvCell(-0.5) is `-0.5`
 */
export function csvCell(value: CsvCell): string {
  if (value === null) return '';
  if (typeof value !== 'string') return String(value);
  const text = beginsFormula.test(value) ? `'${value}` : value;
  return needsQuotes.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

/** One record with its line end. */
export const csvRecord = (cells: readonly CsvCell[]): string =>
  `${cells.map(csvCell).join(',')}\r\n`;

/**
 * Comma-separated values of RFC 4180: a header, then a record a row, each ended by CRLF; cells with
 * a comma, a quote or a line break are quoted. Defusing of formulas: common practice, no source.
 * No rows: the header alone.
 *
 * @example csv(['unit', 'note'], [['0417', 'clip, tugged']]) is `unit,note\r\n0417,"clip, tugged"\r\n`
 */
export const csv = (header: readonly string[], rows: readonly (readonly CsvCell[])[]): string =>
  [header, ...rows].map(csvRecord).join('');
