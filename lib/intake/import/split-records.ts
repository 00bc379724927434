import type { Delimiter } from '@/lib/intake/import/csv-dialect';
import type { Problem } from '@/lib/result';

export type CsvRecord =
  | { readonly line: number; readonly cells: readonly string[] }
  | { readonly line: number; readonly broken: Problem };

const longestRecord = 100_000;

/**
 * Parts CSV text (RFC 4180) into records, each with the line that it begins on, as the text comes in.
 * Lines end in LF or CRLF, or in CR where the first one does; empty ones are passed over. A record
 * with a quote inside a bare cell, text after a closed one, or quotes that do not close is broken:
 * reading goes on with the line after its first. Empty text: no records.
 *
 * @example new RecordSplitter(';').end('a;"b;c"') is [{ line: 1, cells: ['a', 'b;c'] }]
 */
export class RecordSplitter {
  private rest = '';
  private line = 1;
  private lineBreak: '\n' | '\r' | null = null;

  constructor(private readonly delimiter: Delimiter) {}

  /** The records that are whole by now. */
  push(text: string): readonly CsvRecord[] {
    return this.take(text, false);
  }

  /** The records that are left, once all the text is there. */
  end(text = ''): readonly CsvRecord[] {
    return this.take(text, true);
  }

  private take(more: string, isLast: boolean): readonly CsvRecord[] {
    const text = this.rest + more;
    const records: CsvRecord[] = [];
    this.lineBreak ??= firstLineBreak(text, isLast);
    let at = 0;
    let quote = text.indexOf('"');
    while (this.lineBreak !== null && at < text.length) {
      let end = text.indexOf(this.lineBreak, at);
      if (end < 0 && !isLast) break;
      if (end < 0) end = text.length;
      if (quote >= 0 && quote < at) quote = text.indexOf('"', at);
      const isQuoted = quote >= 0 && quote < end;
      if (isQuoted) {
        const closing = this.endOfQuoted(text, at, isLast);
        if (closing === 'not there yet') break;
        if (closing !== null) end = closing;
      }
      const record = text.slice(at, text[end - 1] === '\r' && end > at ? end - 1 : end);
      const cells = isQuoted
        ? quotedCells(record, this.delimiter)
        : record.length <= longestRecord
          ? record.split(this.delimiter)
          : null;
      const { line } = this;
      if (cells === null) {
        end = text.indexOf(this.lineBreak, at);
        if (end < 0) end = text.length;
        records.push({ line, broken: brokenRecord(line) });
        this.line += 1;
      } else {
        if (record !== '') records.push({ line, cells });
        this.line += isQuoted ? record.split(this.lineBreak).length : 1;
      }
      at = end + 1;
    }
    this.rest = text.slice(at);
    return records;
  }

  /** The line break behind a record with quotes; null where they do not close in a record's length. */
  private endOfQuoted(
    text: string,
    from: number,
    isLast: boolean,
  ): number | 'not there yet' | null {
    let isOpen = false;
    let at = from;
    while (at - from <= longestRecord) {
      const end = text.indexOf(this.lineBreak ?? '\n', at);
      const stop = end < 0 ? text.length : end;
      for (let k = text.indexOf('"', at); k >= 0 && k < stop; k = text.indexOf('"', k + 1)) {
        isOpen = !isOpen;
      }
      if (end >= 0 && !isOpen) return end;
      if (end < 0 && isLast) return isOpen ? null : stop;
      if (end < 0) return stop - from > longestRecord ? null : 'not there yet';
      at = end + 1;
    }
    return null;
  }
}

/** LF stands for CRLF too: a CR before it is cut off. */
function firstLineBreak(text: string, isLast: boolean): '\n' | '\r' | null {
  const at = text.search(/[\r\n]/);
  if (at < 0) return isLast ? '\n' : null;
  if (text[at] === '\n' || text[at + 1] === '\n') return '\n';
  return at + 1 < text.length || isLast ? '\r' : null;
}

/** Null where a quote stands inside a bare cell, or text behind a closing one. */
function quotedCells(record: string, delimiter: Delimiter): readonly string[] | null {
  const cells: string[] = [];
  let at = 0;
  for (;;) {
    let end: number;
    if (record[at] === '"') {
      let closing = record.indexOf('"', at + 1);
      while (closing >= 0 && record[closing + 1] === '"') {
        closing = record.indexOf('"', closing + 2);
      }
      if (closing < 0) return null;
      cells.push(record.slice(at + 1, closing).replaceAll('""', '"'));
      end = closing + 1;
      if (end < record.length && record[end] !== delimiter) return null;
    } else {
      const next = record.indexOf(delimiter, at);
      end = next < 0 ? record.length : next;
      const cell = record.slice(at, end);
      if (cell.includes('"')) return null;
      cells.push(cell);
    }
    if (end >= record.length) return cells;
    at = end + 1;
  }
}

const brokenRecord = (line: number): Problem => ({
  field: 'row',
  line,
  message: 'Its quotes do not close, or stand inside a cell.',
  mend: 'Put the whole cell between double quotes, and double those inside it.',
});
