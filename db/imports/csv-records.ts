import type { ColumnMapping } from '@/lib/intake/import/column-mapping';
import { csvDelimiter, type Delimiter, isPacked } from '@/lib/intake/import/csv-dialect';
import { type CsvRecord, RecordSplitter } from '@/lib/intake/import/split-records';
import type { Problem } from '@/lib/result';

/** The file cannot be read at all; the problem says why and what would mend it. */
export class UnreadableFile extends Error {
  constructor(readonly problem: Problem) {
    super(`${problem.message} ${problem.mend}`);
  }
}

const unreadable = (message: string, mend: string, line?: number): UnreadableFile =>
  new UnreadableFile({ field: 'file', message, mend, ...(line !== undefined && { line }) });

type Bytes = AsyncIterable<Uint8Array>;

/** So much makes about a thousand rows, which die young: more would outlive the collector's nursery. */
const bytesAtATime = 1 << 16;

/** The first record of a file: the names of its columns. */
export async function headerOf(
  pieces: Bytes,
  encoding: ColumnMapping['encoding'],
): Promise<readonly string[]> {
  for await (const [first] of csvRecords(pieces, encoding)) {
    if (!first) continue;
    if ('broken' in first) throw new UnreadableFile(first.broken);
    return first.cells.map((cell) => cell.trim());
  }
  throw unreadable('It is empty.', 'Send a file whose first line names the columns.');
}

/**
 * Records of a CSV file, the header first, some at a time, each with the line that it begins on. A row
 * with another number of cells than the header, or with broken quotes, comes as a problem, and reading
 * goes on.
 */
export async function* csvRecords(
  pieces: Bytes,
  encoding: ColumnMapping['encoding'],
): AsyncGenerator<readonly CsvRecord[]> {
  const { text, delimiter } = await begin(textOf(pieces, encoding));
  const splitter = new RecordSplitter(delimiter);
  let width = -1;
  const fitting = (record: CsvRecord): CsvRecord => {
    if ('broken' in record) return record;
    const { line, cells } = record;
    if (width < 0) width = cells.length;
    return cells.length === width
      ? record
      : { line, broken: anotherWidth(cells.length, width, line) };
  };
  for await (const more of text) yield splitter.push(more).map(fitting);
  yield splitter.end().map(fitting);
}

async function* textOf(pieces: Bytes, encoding: ColumnMapping['encoding']) {
  const decoder = new TextDecoder(encoding, { fatal: true });
  let line = 1;
  let isFirst = true;
  const decode = (bytes?: Uint8Array) => {
    try {
      return bytes ? decoder.decode(bytes, { stream: true }) : decoder.decode();
    } catch {
      throw unreadable(
        `It is not UTF-8: about line ${line}, a character cannot be read.`,
        'Save it as CSV UTF-8, or choose Windows-1252 where it comes from an older spreadsheet.',
      );
    }
  };
  for await (const piece of pieces) {
    if ((isFirst && isPacked(piece)) || piece.includes(0)) {
      throw unreadable('It is no plain text.', 'Save it as CSV in UTF-8.');
    }
    isFirst = false;
    for (let from = 0; from < piece.length; from += bytesAtATime) {
      const text = decode(piece.subarray(from, from + bytesAtATime));
      line += lineBreaks(text);
      yield text;
    }
  }
  yield decode();
}

/** Reads as far as the first line goes, to find what divides its columns. */
async function begin(
  text: AsyncGenerator<string>,
): Promise<{ readonly text: AsyncIterable<string>; readonly delimiter: Delimiter }> {
  let start = '';
  let first: string | undefined;
  while (first === undefined) {
    const next = await text.next();
    if (!next.done) start += next.value;
    const line = /^(?:[^"\r\n]|"(?:[^"]|"")*")*(?=[\r\n])/.exec(start)?.[0];
    if (line !== undefined || next.done || start.length > 100_000) first = line ?? start;
  }
  const delimiter = csvDelimiter(first);
  if (!delimiter.ok) throw new UnreadableFile(delimiter.error);
  const whole = async function* () {
    yield start;
    yield* text;
  };
  return { text: whole(), delimiter: delimiter.value };
}

const lineBreaks = (text: string): number => {
  let breaks = 0;
  for (let at = text.indexOf('\n'); at >= 0; at = text.indexOf('\n', at + 1)) breaks += 1;
  return breaks;
};

const anotherWidth = (cells: number, width: number, line: number): Problem => ({
  field: 'row',
  line,
  message: `It has ${cells} cells where the first row has ${width}.`,
  mend: 'Put text that holds what divides the columns between double quotes.',
});
