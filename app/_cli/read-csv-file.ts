import { createReadStream } from 'node:fs';
import { open } from 'node:fs/promises';
import { type CsvRow, csvColumns } from '@/lib/intake/csv-columns';
import { type CsvRecord, RecordSplitter } from '@/lib/intake/import/split-records';
import type { Problem } from '@/lib/result';

/** A file that cannot be used at all: not found, not text, or without a column. */
export class UnusableFile extends Error {}

/**
 * Streams the rows of a CSV file with the line that each begins on. A row with another number of cells
 * than the header, or with broken quotes, goes to `refuse` and reading goes on.
 */
export async function readCsvFile(
  path: string,
  required: readonly string[],
  take: (row: CsvRow, line: number) => void,
  refuse: (problem: Problem) => void,
): Promise<void> {
  let rowOf: ((cells: readonly string[]) => CsvRow) | null = null;
  let width = 0;
  const takeRecord = (record: CsvRecord) => {
    if ('broken' in record) return refuse(record.broken);
    const { cells, line } = record;
    if (!rowOf) {
      rowOf = columnsOf(path, cells, required);
      width = cells.length;
    } else if (cells.length !== width) {
      refuse({
        field: 'row',
        line,
        value: cells.join(',').slice(0, 40),
        message: `It has ${cells.length} cells where the first row has ${width}.`,
        mend: 'Put text that holds a comma between double quotes, and a point before decimals.',
      });
    } else take(rowOf(cells), line);
  };
  const splitter = new RecordSplitter(await delimiterOf(path));
  const decoder = new TextDecoder();
  try {
    for await (const bytes of createReadStream(path)) {
      splitter.push(decoder.decode(bytes, { stream: true })).forEach(takeRecord);
    }
    splitter.end(decoder.decode()).forEach(takeRecord);
  } catch (error) {
    if (error instanceof UnusableFile) throw error;
    throw new UnusableFile(`${path}: ${messageOf(error)}`);
  }
  if (!rowOf)
    throw new UnusableFile(`${path}: there is no first row with the names of the columns.`);
}

function columnsOf(path: string, header: readonly string[], required: readonly string[]) {
  const columns = csvColumns(header, required);
  if (columns.ok) return columns.value;
  throw new UnusableFile(
    columns.error.map(({ message, mend }) => `${path}: ${message} ${mend}`).join('\n'),
  );
}

/** The first line names the columns: what stands between them divides all rows. */
async function delimiterOf(path: string): Promise<',' | ';' | '\t'> {
  const start = await startOf(path);
  if (start.includes(0)) {
    throw new UnusableFile(`${path}: this is no plain text. Save it as CSV in UTF-8.`);
  }
  const first = start.toString('utf8').split(/\r?\n|\r/, 1)[0] ?? '';
  if (first.includes(',')) return ',';
  return first.includes(';') ? ';' : first.includes('\t') ? '\t' : ',';
}

async function startOf(path: string): Promise<Buffer> {
  try {
    const file = await open(path);
    try {
      const { buffer, bytesRead } = await file.read({ buffer: Buffer.alloc(4096) });
      return buffer.subarray(0, bytesRead);
    } finally {
      await file.close();
    }
  } catch (error) {
    throw new UnusableFile(`${path}: ${messageOf(error)}`);
  }
}

function messageOf(error: unknown): string {
  if (error instanceof Error && 'code' in error) {
    if (error.code === 'ENOENT') return 'there is no such file.';
    if (error.code === 'EISDIR') return 'this is a folder.';
    if (error.code === 'EACCES') return 'it may not be read.';
  }
  return error instanceof Error ? error.message : String(error);
}
