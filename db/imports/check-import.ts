import { and, eq, inArray, lt, or } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import { type ColumnMapping, mappingProblems } from '@/lib/intake/import/column-mapping';
import type { ImportKind } from '@/lib/intake/import/import-fields';
import { importFitmentRow } from '@/lib/intake/import/import-fitment-row';
import { importOrderRow } from '@/lib/intake/import/import-order-row';
import { importReadingRow } from '@/lib/intake/import/import-reading-row';
import { importUnitRow } from '@/lib/intake/import/import-unit-row';
import type { ParseRow } from '@/lib/intake/import/imported-row';
import { LinesOfIds } from '@/lib/intake/import/lines-of-ids';
import type { Problem } from '@/lib/result';
import type { Db } from '../client';
import { type ImportCounts, importRun } from '../schema';
import { csvRecords, headerOf, UnreadableFile } from './csv-records';
import { importContext } from './import-context';
import { bytesKept, forgetRows, type ImportRun, piecesOf } from './keep-file';
import { idOfKey } from './on-record';
import { rememberMapping } from './remembered-mapping';
import { RowsOnTheirWay } from './stage-rows';

const parsers: Readonly<Record<ImportKind, ParseRow>> = {
  units: importUnitRow,
  readings: importReadingRow,
  fitments: importFitmentRow,
  'work orders': importOrderRow,
};

/** A check that has given no sign of life for this long was killed, and may be begun again. */
const silentAfterMs = 60_000;

export const isSilent = ({ state, progressAt }: ImportRun, now: Date): boolean =>
  state === 'checking' && now.getTime() - progressAt.getTime() > silentAfterMs;

export type Checked =
  | { readonly state: 'checked'; readonly counts: ImportCounts }
  | { readonly state: 'faulty'; readonly faults: readonly Problem[] }
  /** Cancelled meanwhile, at work elsewhere, or done. */
  | { readonly state: 'not ours' };

interface CheckImport {
  readonly importId: string;
  readonly mapping: ColumnMapping;
  readonly now: Date;
  /** Told the line up to which all rows are staged. */
  readonly onStaged?: (line: number) => void;
}

/** Reads the whole file and says what would become of each row. Nothing goes on record. */
export async function checkImport(
  db: Db,
  actor: Actor,
  { importId, mapping, now, onStaged }: CheckImport,
): Promise<Checked> {
  requirePermission(actor, 'import');
  const run = await claim(db, importId, mapping, now);
  if (!run) return { state: 'not ours' };
  try {
    const kept = await bytesKept(db, importId);
    if (kept !== run.byteCount) throw new UnreadableFile(notWhole(kept, run.byteCount));
    const header = await headerOf(piecesOf(db, importId), mapping.encoding);
    await db.update(importRun).set({ header }).where(eq(importRun.id, importId));
    const faults = mappingProblems(run.kind, header, mapping);
    if (faults.length > 0) return await endWith(db, run, { faults });
    const checked = await checkRows(db, run, { header, mapping, now, onStaged });
    if (!checked) return { state: 'not ours' };
    await rememberMapping(db, run.kind, header, mapping, now);
    return await endWith(db, run, { ...checked, faults: [] });
  } catch (error) {
    if (error instanceof UnreadableFile) return endWith(db, run, { faults: [error.problem] });
    throw error;
  }
}

const notWhole = (kept: number, sent: number): Problem => ({
  field: 'file',
  message: `Of its ${sent} bytes, ${kept} have arrived.`,
  mend: 'Send it again.',
});

async function claim(db: Db, importId: string, mapping: ColumnMapping, now: Date) {
  const silent = new Date(now.getTime() - silentAfterMs);
  const [run] = await db
    .update(importRun)
    .set({ state: 'checking', mapping, rowsRead: 0, counts: null, faults: [], progressAt: now })
    .where(
      and(
        eq(importRun.id, importId),
        or(
          inArray(importRun.state, ['sending', 'checked']),
          and(eq(importRun.state, 'checking'), lt(importRun.progressAt, silent)),
        ),
      ),
    )
    .returning();
  if (run) await forgetRows(db, [importId]);
  return run;
}

async function endWith(
  db: Db,
  run: ImportRun,
  found: Partial<RowsChecked> & { readonly faults: readonly Problem[] },
): Promise<Checked> {
  const [ended] = await db
    .update(importRun)
    .set({
      state: 'checked',
      counts: found.counts ?? null,
      rowsDigest: found.rowsDigest ?? null,
      faults: found.faults,
    })
    .where(and(eq(importRun.id, run.id), eq(importRun.state, 'checking')))
    .returning({ id: importRun.id });
  if (!ended) return { state: 'not ours' };
  return found.counts
    ? { state: 'checked', counts: found.counts }
    : { state: 'faulty', faults: found.faults };
}

interface RowsChecked {
  readonly counts: ImportCounts;
  readonly rowsDigest: string;
}

/** Null where the import was cancelled meanwhile. */
async function checkRows(
  db: Db,
  run: ImportRun,
  { header, mapping, now, onStaged }: Omit<CheckImport, 'importId'> & { header: readonly string[] },
): Promise<RowsChecked | null> {
  const { id: importId, kind } = run;
  const context = await importContext(db, now);
  const parse = parsers[kind];
  const at = new Map(
    Object.entries(mapping.columns).map(([field, column]) => [field, header.indexOf(column)]),
  );
  const rows = new RowsOnTheirWay(db, { importId, kind, ...(onStaged && { onStaged }) });
  let cells: readonly string[] = [];
  const row = (field: string) => {
    const k = at.get(field);
    return k === undefined ? '' : (cells[k] ?? '').trim();
  };
  const lines = new LinesOfIds();
  let isHeader = true;
  for await (const records of csvRecords(piecesOf(db, importId), mapping.encoding)) {
    for (const record of records) {
      if (isHeader) {
        isHeader = false;
        continue;
      }
      if ('broken' in record) {
        rows.refuse(record.line, null, [record.broken]);
        continue;
      }
      const { line } = record;
      cells = record.cells;
      const parsed = parse(row, line, mapping, context);
      if (!parsed.ok) {
        rows.refuse(line, cells, parsed.error);
        continue;
      }
      const id = idOfKey(kind, parsed.value.key);
      const before = lines.before(id, line);
      if (before === undefined) rows.add(parsed.value, id, cells);
      else rows.refuse(line, cells, [twice(line, before)]);
    }
    if (!(await rows.send())) return null;
  }
  return rows.end();
}

const twice = (line: number, before: number): Problem => ({
  field: 'row',
  line,
  message: `The same row, by its number or its unit and day, stands on line ${before}.`,
  mend: 'Keep one of the two.',
});
