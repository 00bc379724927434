import { randomUUID } from 'node:crypto';
import { eq } from 'drizzle-orm';
import { expect, it } from 'vitest';
import type { Db } from '@/db/client';
import { checkImport } from '@/db/imports/check-import';
import { headerOf } from '@/db/imports/csv-records';
import { beginImport, keepPiece, piecesOf } from '@/db/imports/keep-file';
import { mappingFor } from '@/db/imports/remembered-mapping';
import { rowsInQuestion } from '@/db/imports/rows-in-question';
import { fitment, jobTemplate, reading, unit, workOrder } from '@/db/schema';
import { applyImport } from '@/db/writes/apply-import';
import type { Actor } from '@/lib/access';
import type { ColumnMapping } from '@/lib/intake/import/column-mapping';
import { type ImportKind, importKinds } from '@/lib/intake/import/import-fields';
import { onEachDatabase } from '../support/databases';
import { makeFixture } from '../support/tarn-fixture';

const now = new Date('2026-06-30T18:00:00Z');

interface Sheet {
  readonly kind: ImportKind;
  readonly header: readonly string[];
  /** A text and a figure beside what the kind needs. */
  readonly row: (text: string, figure: string) => readonly string[];
  readonly told: (
    db: Db,
  ) => Promise<readonly [string | null | undefined, number | null | undefined]>;
}

/** How spreadsheets write a file, by what differs. From memory of what they offer, no source. */
const dialects: readonly {
  readonly name: string;
  readonly mapping: Partial<ColumnMapping>;
  readonly write: (rows: readonly (readonly string[])[]) => Uint8Array;
}[] = [
  {
    name: 'a byte-order mark, semicolons, decimal commas and CRLF',
    mapping: { decimal: 'comma' },
    write: (rows) =>
      Buffer.from(
        `\ufeff${rows.map((row) => row.join(';').replaceAll('.', ',')).join('\r\n')}\r\n`,
      ),
  },
  {
    name: 'Windows-1252, commas and LF',
    mapping: { encoding: 'windows-1252' },
    write: (rows) => Buffer.from(rows.map((row) => row.join(',')).join('\n'), 'latin1'),
  },
  {
    name: 'tabs and CR',
    mapping: {},
    write: (rows) => Buffer.from(`${rows.map((row) => row.join('\t')).join('\r')}\r`),
  },
  {
    name: 'every cell quoted, and decimal commas between commas',
    mapping: { decimal: 'comma' },
    write: (rows) =>
      Buffer.from(
        rows
          .map((row) => row.map((cell) => `"${cell.replaceAll('.', ',')}"`).join(','))
          .join('\r\n'),
      ),
  },
];

async function check(
  db: Db,
  actor: Actor,
  { kind }: Pick<Sheet, 'kind'>,
  bytes: Uint8Array,
  change: Partial<ColumnMapping>,
) {
  const importId = randomUUID();
  const file = { id: importId, kind, fileName: 'f.csv', byteCount: bytes.length, now };
  await beginImport(db, actor, file);
  await keepPiece(db, actor, { importId, position: 0, bytes });
  const header = await headerOf(piecesOf(db, importId), change.encoding ?? 'utf-8').catch(() => []);
  const { mapping } = await mappingFor(db, kind, header);
  const checked = await checkImport(db, actor, {
    importId,
    mapping: { ...mapping, decimal: 'point', encoding: 'utf-8', ...change },
    now,
  });
  return { importId, checked };
}

onEachDatabase('files of spreadsheets', (db) => {
  const sheetOf = async (kind: ImportKind) => {
    const { unitIds, shedId, person } = await makeFixture(db());
    const manager = await person('fleet manager');
    const [unitId = ''] = unitIds;
    const mark = randomUUID().slice(0, 6).toUpperCase();
    const task = { title: 'Fit a pump', hours: 3, tools: [], partNumbers: [], steps: [] };
    await db()
      .insert(jobTemplate)
      .values({ kind: 'pump', ...task })
      .onConflictDoNothing();
    const own = <Row>(rows: readonly Row[]) => rows[0];
    const sheets: Record<ImportKind, Sheet> = {
      units: {
        kind,
        header: ['unit', 'shed', 'tracked_from', 'body', 'odometer_unit', 'make', 'model_year'],
        row: (text) => [`N-${mark}`, shedId, '2025-01-01', 'suv', 'mi', text, '2022'],
        told: async (on) => {
          const row = own(
            await on
              .select()
              .from(unit)
              .where(eq(unit.id, `N-${mark}`)),
          );
          return [row?.make, row?.modelYear && 80.5];
        },
      },
      readings: {
        kind,
        header: ['unit', 'read_on', 'idle_kpa', 'note'],
        row: (text, figure) => [unitId, '2026-06-01', figure, text],
        told: async (on) => {
          const row = own(await on.select().from(reading).where(eq(reading.unitId, unitId)));
          return [row?.note, row?.idleVacuumKpa];
        },
      },
      fitments: {
        kind,
        header: ['unit', 'part', 'fitted_on', 'odometer_km', 'revision'],
        row: (text, figure) => [unitId, 'pump', '2026-01-10', figure, text],
        told: async (on) => {
          const row = own(await on.select().from(fitment).where(eq(fitment.unitId, unitId)));
          return [row?.revision, row?.fittedOdometerKm];
        },
      },
      'work orders': {
        kind,
        header: [
          'unit',
          'order',
          'why',
          'tasks',
          'raised_on',
          'finished_on',
          'finished_by',
          'odometer_km',
        ],
        row: (text, figure) => [
          ...[unitId, mark, text, 'pump', '2025-06-01', '2025-06-03', manager.personId],
          figure,
        ],
        told: async (on) => {
          const row = own(await on.select().from(workOrder).where(eq(workOrder.unitId, unitId)));
          return [row?.why.replace(/ \(order .*/, ''), row?.finishedOdometerKm];
        },
      },
    };
    return { sheet: sheets[kind], manager };
  };

  it.each(importKinds.flatMap((kind) => dialects.map(({ name }, k) => ({ kind, name, k }))))(
    '$kind with $name are read as they were meant',
    async ({ kind, k }) => {
      const { sheet, manager } = await sheetOf(kind);
      const dialect = dialects[k];
      if (!dialect) throw new Error('each dialect is listed');
      const bytes = dialect.write([sheet.header, sheet.row('Größe é', '80.5')]);
      const { importId, checked } = await check(db(), manager, sheet, bytes, dialect.mapping);
      expect(checked).toMatchObject({ state: 'checked', counts: { new: 1, refused: 0 } });
      await applyImport(db(), { actor: manager, importId, now });
      expect(await sheet.told(db())).toEqual(['Größe é', 80.5]);
    },
  );

  it.each(importKinds)(
    '%s: a line break within quotes stays in its cell, or is refused by name',
    async (kind) => {
      const { sheet, manager } = await sheetOf(kind);
      const row = sheet.row('"two\r\nlines; ""quoted"""', '80.5').join(',');
      const bytes = Buffer.from(`${sheet.header.join(',')}\r\n${row}\r\n`);
      const { importId, checked } = await check(db(), manager, sheet, bytes, {});
      await applyImport(db(), { actor: manager, importId, now });
      const [text] = await sheet.told(db());
      if (kind === 'readings' || kind === 'work orders') {
        expect(text).toBe('two\r\nlines; "quoted"');
        return;
      }
      expect(checked).toMatchObject({ counts: { new: 0, refused: 1 } });
      const refused = [];
      const lines = await rowsInQuestion(db(), manager, importId, 'refused');
      for await (const line of lines ?? []) refused.push(line);
      expect(refused[1]).toMatch(/^2,(make|revision),"It holds characters that cannot be shown/);
    },
  );

  it.each(importKinds)(
    '%s: bytes that are not of the characters chosen are refused',
    async (kind) => {
      const { sheet, manager } = await sheetOf(kind);
      const text = [sheet.header, sheet.row('Größe', '80.5')]
        .map((row) => row.join(','))
        .join('\n');
      const { checked } = await check(db(), manager, sheet, Buffer.from(text, 'latin1'), {});
      expect(checked).toMatchObject({ state: 'faulty', faults: [{ field: 'file' }] });
      const nul = Buffer.from(`${text.replace('Größe', 'G')}\n${'x'.repeat(5_000)}\0`);
      const { checked: odd } = await check(db(), manager, sheet, nul, {});
      expect(odd).toMatchObject({ faults: [{ message: 'It is no plain text.' }] });
    },
  );
});
