import { createHash } from 'node:crypto';
import { setImmediate as turn } from 'node:timers/promises';
import { type SQL, sql } from 'drizzle-orm';
import type { ImportKind } from '@/lib/intake/import/import-fields';
import type { ImportedRow } from '@/lib/intake/import/imported-row';
import type { Problem } from '@/lib/result';
import type { Db } from '../client';
import { sha256 } from '../ledger';
import type { ImportCounts } from '../schema';
import { type Candidate, type Found, onRecord } from './on-record';
import { stagedReading, stagedReadings } from './staged-readings';

interface Refused {
  readonly line: number;
  readonly cells: readonly string[] | null;
  readonly problems: readonly Problem[];
}

interface Batch {
  readonly candidates: Candidate[];
  readonly refused: Refused[];
}

/** Of a reading, the digest says whether it is the same. */
const told = {};

/** One batch is read, one is being asked about and one written: none waits for another. */
const batchesUnderWay = 3;

/**
 * Rows between the file and the record: asked of the record and written beside it, a batch at a time,
 * while the next ones are read. Nothing goes on record here.
 */
export class RowsOnTheirWay {
  private readonly counts = { new: 0, changed: 0, 'on record': 0, refused: 0, odd: 0 };
  private readonly digest = createHash('sha256');
  private rowsRead = 0;
  private batch: Batch = { candidates: [], refused: [] };
  private readonly underWay: Promise<boolean>[] = [];
  private last: Promise<boolean> = Promise.resolve(true);

  constructor(
    private readonly db: Db,
    private readonly run: {
      readonly importId: string;
      readonly kind: ImportKind;
      /** Told the line up to which all rows are staged. */
      readonly onStaged?: (line: number) => void;
    },
  ) {}

  refuse(line: number, cells: readonly string[] | null, problems: readonly Problem[]): void {
    this.rowsRead += 1;
    this.batch.refused.push({ line, cells, problems });
  }

  add(row: ImportedRow, idOfKey: string, cells: readonly string[]): void {
    this.rowsRead += 1;
    const { line, unit, key, values, odd } = row;
    const isReading = this.run.kind === 'readings';
    const id = this.run.kind === 'units' ? key : idOfKey;
    const json = `{"id":"${id}",${JSON.stringify(values).slice(1)}`;
    const digest = sha256(json);
    this.batch.candidates.push({
      line,
      unit,
      key,
      values: isReading ? told : values,
      odd,
      id,
      digest,
      text: isReading ? stagedReading(digest, id, row) : json,
      cells: cells.join('\0'),
    });
  }

  /** Sends the rows so far on their way. False where the import was cancelled meanwhile. */
  async send(): Promise<boolean> {
    const { batch, rowsRead, last } = this;
    this.batch = { candidates: [], refused: [] };
    this.last = this.write(batch, rowsRead, last);
    // A failure is met by whoever waits for it next, not as one that nobody has heard of.
    this.last.catch(() => {});
    this.underWay.push(this.last);
    // Answers of the database are met between two batches, so that it gets the next one.
    await turn();
    return this.underWay.length < batchesUnderWay || ((await this.underWay.shift()) ?? true);
  }

  /** Null where the import was cancelled meanwhile. */
  async end(): Promise<{ readonly counts: ImportCounts; readonly rowsDigest: string } | null> {
    if (!(await this.send()) || !(await this.last)) return null;
    return { counts: this.counts, rowsDigest: this.digest.digest('hex') };
  }

  /** Asks at once; counts and writes behind the batch before it, so that lines keep their order. */
  private async write(batch: Batch, rowsRead: number, before: Promise<boolean>): Promise<boolean> {
    const asked = onRecord[this.run.kind](this.db, batch.candidates);
    const [standing, isOurs] = await Promise.all([asked, before]);
    if (!isOurs) return false;
    const { readings, rows } = this.sorted(batch, standing);
    const answer = await this.db.execute(sql`
      with run as (
        update import_run set rows_read = ${rowsRead}, progress_at = now()
        where id = ${this.run.importId} and state = 'checking' returning id
      )${readings.length > 0 ? stagedReadings(readings) : sql``}${rows.length > 0 ? stagedRows(rows) : sql``}
      select id from run`);
    const isStaged = (answer as { readonly rows: readonly unknown[] }).rows.length > 0;
    const newest = batch.candidates.at(-1);
    if (isStaged && newest) this.run.onStaged?.(newest.line);
    return isStaged;
  }

  /** Counts the rows of a batch by what becomes of them, and gives those to be kept. */
  private sorted({ candidates, refused }: Batch, standing: (row: Candidate) => Found) {
    const isReading = this.run.kind === 'readings';
    const readings: string[] = [];
    const rows: string[] = [];
    const keep = (row: Refused) => {
      this.counts.refused += 1;
      rows.push(JSON.stringify({ outcome: 'refused', ...row }));
    };
    refused.forEach(keep);
    for (const row of candidates) {
      const { line, digest, odd, text } = row;
      const outcome = standing(row);
      const cells = () => row.cells.split('\0');
      if (typeof outcome !== 'string') {
        keep({ line, cells: cells(), problems: [outcome] });
        continue;
      }
      this.counts[outcome] += 1;
      if (outcome === 'on record') continue;
      this.digest.update(digest);
      if (isReading) readings.push(text);
      const kept = isReading ? '' : `,"row":${text}`;
      const isOdd = odd.length > 0;
      if (isOdd) this.counts.odd += 1;
      const question = isOdd
        ? `,"cells":${JSON.stringify(cells())},"problems":${JSON.stringify(odd)}`
        : '';
      if (kept || question) rows.push(`{"line":${line},"outcome":"${outcome}"${kept}${question}}`);
    }
    return { readings, rows };
  }
}

/** One text for the whole batch: the server takes it apart more cheaply than parameters by row. */
const stagedRows = (rows: readonly string[]): SQL => sql`, others as (
  insert into import_row (import_id, line, outcome, row, cells, problems)
  select run.id, r.line, r.outcome, r.row, r.cells, r.problems
  from run, json_to_recordset(${`[${rows.join(',')}]`}::text::json) as r (line int, outcome text,
    row jsonb, cells jsonb, problems jsonb)
  on conflict do nothing)`;
