import { randomUUID } from 'node:crypto';
import { and, asc, eq, inArray, sql } from 'drizzle-orm';
import { describe, expect, it } from 'vitest';
import type { Db } from '@/db/client';
import { isBeingPut, notePutProgress } from '@/db/imports/being-put';
import { checkImport } from '@/db/imports/check-import';
import { headerOf } from '@/db/imports/csv-records';
import {
  beginImport,
  cancelImport,
  importRunOf,
  keepPiece,
  piecesOf,
} from '@/db/imports/keep-file';
import { mappingFor } from '@/db/imports/remembered-mapping';
import { rowsInQuestion } from '@/db/imports/rows-in-question';
import { stagedLines } from '@/db/imports/staged-lines';
import { checkLedger } from '@/db/ledger';
import { unitOnSheet } from '@/db/reads/unit-on-sheet';
import { yardRows } from '@/db/reads/yard-rows';
import { sweepFleet } from '@/db/record/sweep';
import {
  bulletinUnit,
  fitment,
  importPiece,
  importReading,
  importRow,
  importRun,
  jobTemplate,
  judgingDue,
  ledgerEntry,
  reading,
  spell,
  unit,
  verdict,
  workOrder,
  workTask,
} from '@/db/schema';
import { applyImport } from '@/db/writes/apply-import';
import { enterBulletin } from '@/db/writes/enter-bulletin';
import { recordReading } from '@/db/writes/record-reading';
import { AccessDenied, type Actor } from '@/lib/access';
import { expectedCheckCharacter } from '@/lib/bulletins/vin-check-digit';
import type { ColumnMapping } from '@/lib/intake/import/column-mapping';
import type { ImportKind } from '@/lib/intake/import/import-fields';
import { toKilopascals } from '@/lib/measure';
import { hasTestServer, onEachDatabase, openTestServer } from '../support/databases';
import { soundPayload } from '../support/sound-payload';
import { makeFixture } from '../support/tarn-fixture';

const now = new Date('2026-06-30T18:00:00Z');

async function send(db: Db, actor: Actor, kind: ImportKind, content: string | Uint8Array) {
  const bytes = typeof content === 'string' ? new TextEncoder().encode(content) : content;
  const id = randomUUID();
  await beginImport(db, actor, { id, kind, fileName: 'f.csv', byteCount: bytes.length, now });
  const half = Math.ceil(bytes.length / 2);
  for (const [position, from] of [0, half].entries()) {
    const piece = bytes.slice(from, from + half);
    await keepPiece(db, actor, { importId: id, position, bytes: piece });
  }
  return id;
}

async function check(
  db: Db,
  actor: Actor,
  kind: ImportKind,
  content: string | Uint8Array,
  change: Partial<ColumnMapping> = {},
) {
  const importId = await send(db, actor, kind, content);
  const encoding = change.encoding ?? 'utf-8';
  const header = await headerOf(piecesOf(db, importId), encoding).catch(() => []);
  const { mapping } = await mappingFor(db, kind, header);
  const merged = { ...mapping, ...change, units: { ...mapping.units, ...change.units } };
  const checked = await checkImport(db, actor, { importId, mapping: merged, now });
  return { importId, checked };
}

async function take(db: Db, actor: Actor, kind: ImportKind, content: string) {
  const { importId, checked } = await check(db, actor, kind, content);
  expect(checked.state === 'faulty' ? checked.faults : []).toEqual([]);
  const applied = await applyImport(db, { actor, importId, now });
  return { importId, checked, applied };
}

async function linesOf(
  db: Db,
  actor: Actor,
  importId: string,
  which: 'refused' | 'odd' = 'refused',
) {
  const lines: string[] = [];
  for await (const line of (await rowsInQuestion(db, actor, importId, which)) ?? [])
    lines.push(line);
  return lines;
}

const readingsOf = (db: Db, unitIds: readonly string[]) =>
  db
    .select()
    .from(reading)
    .where(inArray(reading.unitId, [...unitIds]))
    .orderBy(asc(reading.readAt));

onEachDatabase('imports', (db) => {
  const shop = async (units = 1) => {
    const fixture = await makeFixture(db(), units);
    const manager = await fixture.person('fleet manager');
    return { ...fixture, manager, unitId: fixture.unitIds[0] ?? '' };
  };

  it('put readings on record, in the units and zone that were said, once', async () => {
    const { unitId, manager, person } = await shop();
    const technician = await person('technician');
    const file = [
      'Unit,Reading,Read at,Idle vacuum (inHg),Lowest (psi),Recovery s,Line,Odometer (mi),Read by',
      `${unitId.toLowerCase()},R1-${unitId},2026-03-10 09:40,23.5,10.1,4.5,dry,50000,${technician.personId}`,
      `${unitId},R2-${unitId},2026-06-10T09:40:00-06:00,23.4,,,,,Somebody else`,
    ].join('\r\n');
    const { applied } = await take(db(), manager, 'readings', file);
    expect(applied).toMatchObject({ ok: true, value: { counts: { new: 2, refused: 0 } } });
    const [first, second] = await readingsOf(db(), [unitId]);
    expect(first?.idleVacuumKpa).toBeCloseTo(toKilopascals(23.5, 'inHg'), 9);
    expect(first?.lowestKpa).toBeCloseTo(toKilopascals(10.1, 'psi'), 9);
    expect(first).toMatchObject({
      readOn: '2026-03-10',
      // Denver has daylight saving time on 10 March 2026: UTC-6.
      readAt: new Date('2026-03-10T15:40:00Z'),
      technicianId: technician.personId,
      source: 'import',
    });
    expect(first?.odometerKm).toBeCloseTo(80_467.2, 9);
    expect(second).toMatchObject({ technicianLabel: 'Somebody else', lowestKpa: null });

    const again = await take(db(), manager, 'readings', file);
    expect(again.applied).toMatchObject({
      ok: true,
      value: { counts: { new: 0, 'on record': 2 } },
    });
    expect(await readingsOf(db(), [unitId])).toHaveLength(2);
    expect((await checkLedger(db())).faults).toEqual([]);
  });

  it('leave one ledger entry, and their units to the sweep, which judges them once', async () => {
    const { unitId, manager } = await shop();
    await sweepFleet(db(), now, { learns: false });
    // A bulletin has left its mark to the sweep already.
    await db().insert(judgingDue).values({ unitId, since: now, touched: 'nothing' });
    const file = `unit,read_on,idle_vacuum_psi,pedal\n${unitId},2026-06-29,9,went hard\n`;
    const { applied } = await take(db(), manager, 'readings', file);
    const spells = () => db().select().from(spell).where(eq(spell.unitId, unitId));
    expect(await spells()).toEqual([]);
    const due = () => db().select().from(judgingDue).where(eq(judgingDue.unitId, unitId));
    expect(await due()).toMatchObject([{ touched: 'readings' }]);
    const shown = async () => [
      (await unitOnSheet(db(), manager, unitId))?.isBeingJudged,
      (await yardRows(db(), [unitId]))[0]?.isBeingJudged,
    ];
    expect(await shown()).toEqual([true, true]);
    expect((await sweepFleet(db(), now, { learns: false })).judged).toBe(1);
    expect(await due()).toEqual([]);
    expect(await shown()).toEqual([false, false]);
    expect(await spells()).toHaveLength(1);
    expect((await sweepFleet(db(), now, { learns: false })).judged).toBe(0);
    const entry = applied.ok ? applied.value.entry : 0;
    const kept = await db().select().from(ledgerEntry).where(eq(ledgerEntry.entry, entry));
    expect(kept).toMatchObject([{ kind: 'rows imported', personId: manager.personId }]);
  });

  it('refuse rows by line with reasons, and take the good ones', async () => {
    const { unitId, manager } = await shop();
    const rows = [
      [unitId, 'A', '2026-06-01', '13', '=1+1'],
      ['NONE-1', 'B', '2026-06-01', '13', ''],
      [unitId, 'C', '06/01/2026', '13', ''],
      [unitId, 'D', '2026-02-30', '13', ''],
      [unitId, 'E', '2026-06-01', '"24,5"', ''],
      [unitId, 'F', '2026-06-01', '25.5', ''],
      [unitId, 'A', '2026-06-02', '13', ''],
      [unitId, 'G', '2027-06-02', '13', ''],
      [unitId, 'H', '2026-06-03', '-0', ''],
      [unitId, 'I', '2026-06-03', '1e309', ''],
      [unitId, 'J', '2026-06-03', '٢٤', ''],
      [unitId, 'K', '2026-06-03'],
      [unitId, 'L', '2026-06-04', '13', '\u202Eabc'],
      [unitId, 'M', '2026-06-04', '13', 'a'.repeat(2001)],
    ];
    const file = `unit,reading,read_on,idle_vacuum_psi,note\n${rows.map((row) => row.join(',')).join('\n')}\n`;
    const { importId, checked } = await check(db(), manager, 'readings', file);
    expect(checked).toMatchObject({ state: 'checked', counts: { new: 1, refused: 13 } });
    const refused = await linesOf(db(), manager, importId);
    expect(refused[0]).toBe(
      'line,column,reason,mend,unit,reading,read_on,idle_vacuum_psi,note\r\n',
    );
    const said = refused.slice(1).map((line) => /^(\d+),([a-z_ |]+),/.exec(line)?.slice(1, 3));
    expect(said).toEqual([
      ['3', 'unit'],
      ['4', 'read_on'],
      ['5', 'read_on'],
      ['6', 'idle_vacuum'],
      ['7', 'idle_vacuum'],
      ['8', 'row'],
      ['9', 'read_on'],
      ['10', 'idle_vacuum'],
      ['11', 'idle_vacuum'],
      ['12', 'idle_vacuum'],
      ['13', 'row'],
      ['14', 'note'],
      ['15', 'note'],
    ]);
    await applyImport(db(), { actor: manager, importId, now });
    expect(await readingsOf(db(), [unitId])).toMatchObject([{ note: '=1+1' }]);
    expect(await linesOf(db(), manager, importId)).toEqual(refused);
  });

  it('never merge: another reading under a number that is on record is refused', async () => {
    const { unitId, manager } = await shop();
    const file = (idle: string) =>
      `unit,reading,read_on,idle_psi\n${unitId},Q1-${unitId},2026-06-01,${idle}\n`;
    await take(db(), manager, 'readings', file('13'));
    const { checked } = await check(db(), manager, 'readings', file('12'));
    expect(checked).toMatchObject({ counts: { new: 0, refused: 1 } });
    expect(await readingsOf(db(), [unitId])).toHaveLength(1);
  });

  it('name the fault of a file that cannot be read in one way only', async () => {
    const { unitId, manager } = await shop();
    const head = 'unit;read_on;idle_psi';
    const cases: readonly (readonly [string, string | Uint8Array, RegExp])[] = [
      [
        'Latin-1',
        Buffer.from(`${head};note\n${unitId};2026-06-01;13;Stra\u00dfe\n`, 'latin1'),
        /not UTF-8/,
      ],
      ['UTF-16', Buffer.from(`\ufeff${head}\n`, 'utf16le'), /no plain text/],
      ['a workbook', Buffer.from([0x50, 0x4b, 3, 4, 20, 0]), /no plain text/],
      ['two delimiters', `unit;read_on,idle_psi\n`, /side by side/],
      ['a note', `sep=;\n${head}\n`, /note for a spreadsheet/],
      ['nothing', '', /empty/],
      ['no unit of measure', `unit;read_on;idle\n${unitId};2026-06-01;13\n`, /no unit of measure/],
      ['no day', `unit;idle_psi\n${unitId};13\n`, /when it was read/],
      ['no units', `who;read_on;idle_psi\n${unitId};2026-06-01;13\n`, /No column holds Unit/],
    ];
    for (const [name, content, message] of cases) {
      const { checked, importId } = await check(db(), manager, 'readings', content);
      const faults = checked.state === 'faulty' ? checked.faults : [];
      expect(faults.map((one) => one.message).join(' '), name).toMatch(message);
      const applied = await applyImport(db(), { actor: manager, importId, now });
      expect(applied, name).toEqual({ ok: false, error: 'not checked' });
    }
  });

  it('read what common spreadsheets write', async () => {
    const { unitId, manager } = await shop();
    const taken = async (content: string | Uint8Array, change: Partial<ColumnMapping>) => {
      const { importId, checked } = await check(db(), manager, 'readings', content, change);
      expect(checked).toMatchObject({ state: 'checked', counts: { new: 1, refused: 0 } });
      await applyImport(db(), { actor: manager, importId, now });
    };
    const bom = `\ufeffunit;read_on;"idle, as read (psi)";note\r\n${unitId};2026-06-01;13,1;"two\r\nlines; ""quoted"""\r\n`;
    await taken(bom, {
      decimal: 'comma',
      columns: {
        unit: 'unit',
        read_on: 'read_on',
        idle_vacuum: 'idle, as read (psi)',
        note: 'note',
      },
      units: { idle_vacuum: 'psi' },
    });
    const latin = Buffer.from(
      `unit,read_on,idle_psi,note\n${unitId},2026-06-02,13.2,Straße €\n`,
      'latin1',
    );
    latin[latin.length - 2] = 0x80;
    await taken(latin, { encoding: 'windows-1252' });
    await taken(`unit\tread_on\tidle_psi\tnote\r${unitId}\t2026-06-03\t13.3\told\r`, {});
    const rows = await readingsOf(db(), [unitId]);
    expect(rows.map(({ note }) => note)).toEqual(['two\r\nlines; "quoted"', 'Straße €', 'old']);
    expect(
      rows.map(({ idleVacuumKpa }) => Number(((idleVacuumKpa ?? 0) / 6.894757).toFixed(6))),
    ).toEqual([13.1, 13.2, 13.3]);
  });

  it('refuse a point where decimals come after a comma, and a time that was on no clock or on two', async () => {
    const { unitId, manager } = await shop();
    const file = `unit;read_at;idle_psi\n${unitId};2026-06-01 09:00;13.1\n${unitId};2026-03-08 02:30;13,1\n${unitId};2025-11-02 01:30;13,1\n`;
    const { importId, checked } = await check(db(), manager, 'readings', file, {
      decimal: 'comma',
    });
    expect(checked).toMatchObject({ counts: { new: 0, refused: 3 } });
    const [, point, skipped, twice] = await linesOf(db(), manager, importId);
    expect(point).toContain('holds a point');
    expect(skipped).toContain('on no clock');
    expect(twice).toContain('came twice');
  });

  it('remember how the columns of a file were read', async () => {
    const { unitId, manager } = await shop();
    const file = (day: string) => `Wagen,Tag,Unterdruck-${unitId}\n${unitId},${day},80\n`;
    const mapping = {
      columns: { unit: 'Wagen', read_on: 'Tag', idle_vacuum: `Unterdruck-${unitId}` },
      units: { idle_vacuum: 'kPa' as const },
    };
    const first = await check(db(), manager, 'readings', file('2026-06-01'), mapping);
    expect(first.checked.state).toBe('checked');
    const second = await check(db(), manager, 'readings', file('2026-06-02'));
    expect(second.checked).toMatchObject({ state: 'checked', counts: { new: 1 } });
  });

  it('bring units in, change what the file knows better, and keep the rest', async () => {
    const { manager, shedId } = await shop();
    const shed = await db().query.shed.findFirst({ where: (row, { eq }) => eq(row.id, shedId) });
    const mark = randomUUID().slice(0, 6).toUpperCase();
    const head = 'unit,shed,tracked_from,body,odometer_unit';
    const row = `N-${mark},${shed?.name},2025-01-01,suv,mi`;
    await take(db(), manager, 'units', `${head},make,built_on\n${row},Tarnmark,2023-05\n`);
    const again = await take(
      db(),
      manager,
      'units',
      `${head},make,built_on\n${row},Tarnmark,2023-05\n`,
    );
    expect(again.checked).toMatchObject({ counts: { 'on record': 1, changed: 0 } });
    const { checked } = await take(db(), manager, 'units', `${head},engine\n${row},V6\n`);
    expect(checked).toMatchObject({ counts: { changed: 1, new: 0 } });
    expect(
      await db()
        .select()
        .from(unit)
        .where(eq(unit.id, `N-${mark}`)),
    ).toMatchObject([
      {
        make: 'Tarnmark',
        engine: 'V6',
        builtYear: 2023,
        builtMonth: 5,
        builtDay: null,
        body: 'SUV',
      },
    ]);
    const bad = await check(
      db(),
      manager,
      'units',
      `${head},vin,model_year\n${row},NOT-A-VIN,2023\nX 1,${shed?.name},2025-01-01,suv,mi,,2023.5\nY1,Nowhere,soon,boat,furlong,,\n`,
    );
    expect(bad.checked).toMatchObject({ counts: { new: 0, changed: 0, refused: 3 } });
  });

  it('tell a VIN apart as where it is keyed, and refuse it only where the digit is required', async () => {
    const { manager, shedId } = await shop();
    const name = randomUUID().slice(0, 6).toUpperCase();
    const sequence = String(Number.parseInt(name, 16) % 1_000_000).padStart(6, '0');
    const vinWith = (digit: string) => `ZZ9FA1B2${digit}TR${sequence}`;
    const digit = expectedCheckCharacter(vinWith('0'));
    const [right, wrong] = [vinWith(digit), vinWith(digit === '7' ? '8' : '7')];
    const head = 'unit,shed,tracked_from,body,odometer_unit,vin';
    const file = (vin: string, market = '') =>
      `${head}${market && ',check_digit_required'}\n${name},${shedId},2025-01-01,suv,mi,${vin}${market && `,${market}`}\n`;
    const reasons = async (vin: string, which: 'refused' | 'odd' = 'refused', market = '') => {
      const { importId } = await check(db(), manager, 'units', file(vin, market));
      return (await linesOf(db(), manager, importId, which)).slice(1).join('');
    };
    const asked = `the other characters ask for ${digit}`;
    expect(await reasons(wrong)).toContain(asked);
    expect(await reasons(wrong.replace('B', 'O'))).toContain('O in position 7');
    expect(await reasons(wrong.slice(1))).toContain('1 missing');
    expect(await reasons(wrong, 'odd', 'no')).toContain(asked);
    await take(db(), manager, 'units', file(wrong, 'no'));
    const onRecord = () => db().select().from(unit).where(eq(unit.id, name));
    expect(await onRecord()).toMatchObject([{ vin: wrong, isCheckDigitRequired: false }]);
    expect((await check(db(), manager, 'units', file(wrong))).checked).toMatchObject({
      counts: { 'on record': 1, refused: 0 },
    });
    await take(
      db(),
      manager,
      'units',
      file(`${right.slice(0, 3)}-${right.slice(3).toLowerCase()}`),
    );
    expect(await onRecord()).toMatchObject([{ vin: right, isCheckDigitRequired: false }]);
  });

  it('have the sweep judge the bulletins of their units, and no others', async () => {
    const { unitIds, manager, shedId } = await shop(3);
    const [one = '', two = '', three = ''] = unitIds;
    await db().update(unit).set({ make: shedId }).where(inArray(unit.id, unitIds));
    const values = ['A'];
    const entered = await enterBulletin(db(), {
      actor: manager,
      draft: {
        number: `F-${shedId}`,
        issue: '1',
        title: 'Pump seal',
        issuedOn: '2026-01-01',
        kind: 'recommended',
        dueOn: null,
        rule: {
          anyOf: [
            { make: [shedId], fitted: [{ part: 'pump', fact: 'revision', is: 'in', values }] },
          ],
        },
        conditions: 'The seal lets oil through.',
        actions: 'Fit revision C.',
        hours: 1,
        requiredParts: [{ part: 'pump', revisions: ['C'] }],
        source: 'invented',
      },
      now,
    });
    const bulletinId = entered.ok ? entered.value.bulletinId : '';
    const pairs = async () =>
      (
        await db()
          .select({ status: bulletinUnit.status, version: sql`xmin::text` })
          .from(bulletinUnit)
          .where(
            and(eq(bulletinUnit.bulletinId, bulletinId), inArray(bulletinUnit.unitId, unitIds)),
          )
          .orderBy(asc(bulletinUnit.unitId))
      ).map(({ status, version }) => ({ status, version }));
    const statuses = async () => (await pairs()).map(({ status }) => status);
    const before = await pairs();
    expect(before.map(({ status }) => status)).toEqual(['undecided', 'undecided', 'undecided']);
    const head = 'unit,part,fitted_on,revision';
    const fitted = `${head}\n${one},pump,2026-01-10,A\n${two},pump,2026-01-10,B\n`;
    await take(db(), manager, 'fitments', fitted);
    expect(await pairs()).toEqual(before);
    await sweepFleet(db(), now, { learns: false });
    expect(await statuses()).toEqual(['open', 'does not apply', 'undecided']);
    // The row of the unit that was not touched has not been written again.
    expect((await pairs())[2]).toEqual(before[2]);
    const unitHead = 'unit,shed,tracked_from,body,odometer_unit,make';
    const other = `${unitHead}\n${three},${shedId},2020-01-01,suv,mi,Elsewhere\n`;
    await take(db(), manager, 'units', other);
    await take(db(), manager, 'fitments', `${head}\n${three},belt,2026-01-10,A\n`);
    await sweepFleet(db(), now, { learns: false });
    expect(await statuses()).toEqual(['open', 'does not apply', 'does not apply']);
    const done = { status: 'done' as const, statusAt: new Date('2026-03-01T12:00:00Z') };
    const pair = and(eq(bulletinUnit.bulletinId, bulletinId), eq(bulletinUnit.unitId, one));
    await db().update(bulletinUnit).set(done).where(pair);
    await take(db(), manager, 'fitments', `${head}\n${one},pump,2026-02-10,B\n`);
    expect(await statuses()).toEqual(['done', 'does not apply', 'does not apply']);
    await take(db(), manager, 'fitments', `${head}\n${one},pump,2026-04-10,B\n`);
    expect((await statuses())[0]).toBe('open');
    expect((await checkLedger(db())).faults).toEqual([]);
  });

  it('set fitments into the lives that are on record, in whatever order they come', async () => {
    const { unitId, manager } = await shop();
    await db().insert(fitment).values({ unitId, part: 'belt', fittedOn: null });
    const head = 'unit,part,fitted_on,odometer_km,why_replaced';
    await take(db(), manager, 'fitments', `${head}\n${unitId},belt,2026-01-10,90000,worn\n`);
    await take(
      db(),
      manager,
      'fitments',
      `${head}\n${unitId},belt,2025-01-10,60000,failed\n${unitId},belt,2026-05-10,95000,preventive\n${unitId},pump,2026-05-10,,\n`,
    );
    const again = await take(
      db(),
      manager,
      'fitments',
      `${head}\n${unitId},belt,2025-01-10,60000,failed\n`,
    );
    expect(again.checked).toMatchObject({ counts: { 'on record': 1 } });
    const lives = await db()
      .select()
      .from(fitment)
      .where(and(eq(fitment.unitId, unitId), eq(fitment.part, 'belt')))
      .orderBy(asc(fitment.removedOn));
    expect(lives.map((row) => [row.fittedOn, row.removedOn, row.whyRemoved])).toEqual([
      [null, '2025-01-10', 'failed'],
      ['2025-01-10', '2026-01-10', 'other'],
      ['2026-01-10', '2026-05-10', 'preventive'],
      ['2026-05-10', null, null],
    ]);
  });

  it('bring open orders and the history of closed ones in', async () => {
    const { unitId, manager, person } = await shop();
    const technician = await person('technician');
    await db()
      .insert(jobTemplate)
      .values({
        kind: 'pump',
        title: 'Fit a pump',
        hours: 3,
        tools: [],
        partNumbers: [],
        steps: [],
      })
      .onConflictDoNothing();
    const file = [
      'unit,order,why,tasks,raised_on,finished_on,finished_by',
      `${unitId},7-${unitId},Idle low,pump,2026-06-01,,`,
      `${unitId},6-${unitId},Pump worn,Pump,2025-06-01,2025-06-03,${technician.personId}`,
      `${unitId},5-${unitId},Pump worn,gearbox,2025-06-01,,`,
      `${unitId},4-${unitId},Pump worn,pump,2025-06-01,2025-06-03,nobody`,
    ].join('\n');
    const { checked } = await take(db(), manager, 'work orders', file);
    expect(checked).toMatchObject({ counts: { new: 2, refused: 2 } });
    const orders = await db()
      .select()
      .from(workOrder)
      .innerJoin(workTask, eq(workTask.workOrderId, workOrder.id))
      .where(eq(workOrder.unitId, unitId))
      .orderBy(asc(workOrder.raisedAt));
    expect(orders).toMatchObject([
      {
        work_order: { state: 'closed', finishedBy: technician.personId },
        work_task: { state: 'done' },
      },
      {
        work_order: { state: 'raised' },
        work_task: { state: 'open', title: 'Fit a pump', hours: 3 },
      },
    ]);
    expect((await take(db(), manager, 'work orders', file)).checked).toMatchObject({
      counts: { 'on record': 2 },
    });
  });

  it('cancelled at any point leave nothing, and what is on record cannot be cancelled', async () => {
    const { unitId, manager } = await shop();
    const file = `unit,read_on,idle_psi\n${unitId},2026-06-01,13\n`;
    const { importId } = await check(db(), manager, 'readings', file);
    expect(await cancelImport(db(), manager, importId)).toBe(true);
    for (const table of [importPiece, importRow, importReading]) {
      expect(await db().select().from(table).where(eq(table.importId, importId))).toEqual([]);
    }
    expect(await applyImport(db(), { actor: manager, importId, now })).toMatchObject({ ok: false });
    expect(await readingsOf(db(), [unitId])).toEqual([]);
    const done = await take(db(), manager, 'readings', file);
    expect(await cancelImport(db(), manager, done.importId)).toBe(false);
    expect(await readingsOf(db(), [unitId])).toHaveLength(1);
  });

  it('whose check was killed are taken up again, and not before', async () => {
    const { unitId, manager } = await shop();
    const importId = await send(
      db(),
      manager,
      'readings',
      `unit,read_on,idle_psi\n${unitId},2026-06-01,13\n`,
    );
    const { mapping } = await mappingFor(db(), 'readings', ['unit', 'read_on', 'idle_psi']);
    const dead = { state: 'checking' as const, rowsRead: 7, progressAt: now };
    await db().update(importRun).set(dead).where(eq(importRun.id, importId));
    const at = (seconds: number) => new Date(now.getTime() + seconds * 1000);
    const soon = await checkImport(db(), manager, { importId, mapping, now: at(10) });
    expect(soon).toEqual({ state: 'not ours' });
    const later = await checkImport(db(), manager, { importId, mapping, now: at(70) });
    expect(later).toMatchObject({ state: 'checked', counts: { new: 1 } });
    expect(await importRunOf(db(), manager, importId)).toMatchObject({ rowsRead: 1 });
  });

  it("are a fleet manager's, and nobody else's", async () => {
    const { unitId, manager, person } = await shop();
    const file = `unit,read_on,idle_psi\n${unitId},2026-06-01,13\n`;
    const { importId } = await check(db(), manager, 'readings', file);
    for (const role of ['technician', 'safety officer', 'auditor', 'admin'] as const) {
      const actor = await person(role);
      await expect(send(db(), actor, 'readings', file)).rejects.toThrow(AccessDenied);
      await expect(applyImport(db(), { actor, importId, now })).rejects.toThrow(AccessDenied);
      await expect(cancelImport(db(), actor, importId)).rejects.toThrow(AccessDenied);
      await expect(rowsInQuestion(db(), actor, importId, 'refused')).rejects.toThrow(AccessDenied);
    }
    expect(await db().select().from(verdict).where(eq(verdict.unitId, unitId))).toEqual([]);
  });
});

// The embedded database has one connection: nobody can look or cancel amid its transaction.
describe.skipIf(!hasTestServer)('an import that is going on record', () => {
  it('says how far it is, takes no second one, and is undone where it is cancelled', async () => {
    const open = await openTestServer();
    try {
      const { db } = open;
      const { unitIds, person } = await makeFixture(db, 1);
      const manager = await person('fleet manager');
      const file = `unit,read_on,idle_psi\n${unitIds[0]},2026-06-01,13\n`;
      const { importId } = await check(db, manager, 'readings', file);
      const input = { actor: manager, importId, now };
      expect(await isBeingPut(db, importId)).toBe(false);
      const undone = await applyImport(db, {
        ...input,
        onProgress: async (progress) => {
          await notePutProgress(db, importId, progress);
          expect(await isBeingPut(db, importId)).toBe(true);
          expect(await importRunOf(db, manager, importId)).toMatchObject({
            state: 'checked',
            putProgress: { done: 0, total: 1 },
          });
          expect(await applyImport(db, input)).toEqual({ ok: false, error: 'not checked' });
          expect(await cancelImport(db, manager, importId)).toBe(true);
        },
      });
      expect(undone).toEqual({ ok: false, error: 'not checked' });
      expect(await isBeingPut(db, importId)).toBe(false);
      for (const table of [reading, ledgerEntry, judgingDue, importReading, importPiece]) {
        expect(await db.$count(table)).toBe(0);
      }
      expect(await take(db, manager, 'readings', file)).toMatchObject({ applied: { ok: true } });
    } finally {
      await open.close();
    }
  });

  describe('beside its check', () => {
    const beside = async (
      change: (db: Db, manager: Actor, importId: string) => Promise<unknown>,
    ) => {
      const open = await openTestServer();
      try {
        const { db } = open;
        const { unitIds, person } = await makeFixture(db, 1);
        const manager = await person('fleet manager');
        const [first, second, third] = ['R1', 'R2', 'R3'].map(
          (id) => `${unitIds[0]},${id},2026-06-0`,
        );
        const text = `unit,reading,read_on,idle_psi\n${first}1,13\n${second}2,never\n${third}3,13\n`;
        const importId = await send(db, manager, 'readings', text);
        const { mapping } = await mappingFor(db, 'readings', [
          'unit',
          'reading',
          'read_on',
          'idle_psi',
        ]);
        let stagedTo = 0;
        const onStaged = (line: number) => {
          stagedTo = line;
        };
        const checked = (async () => {
          await expect.poll(() => isBeingPut(db, importId)).toBe(true);
          const found = await checkImport(db, manager, { importId, mapping, now, onStaged });
          expect(stagedTo).toBe(4);
          expect(await db.$count(reading)).toBe(0);
          await change(db, manager, importId);
          return found;
        })();
        const underWay = { checked, stagedTo: () => stagedTo };
        const applied = await applyImport(db, { actor: manager, importId, now, underWay }).catch(
          (error: unknown) => error,
        );
        return { applied, ids: await db.$count(reading), entries: await db.$count(ledgerEntry) };
      } finally {
        await open.close();
      }
    };

    it('is on record once that has ended well', async () => {
      const { applied, ...left } = await beside(async () => {});
      expect(applied).toMatchObject({ ok: true, value: { counts: { new: 2, refused: 1 } } });
      expect(left).toEqual({ ids: 2, entries: 1 });
    });

    it('takes the lines that are staged for good, enough at a time to be worth a look', async () => {
      const open = await openTestServer();
      try {
        const { db } = open;
        const { unitIds, person } = await makeFixture(db, 1);
        const text = `unit,read_on,idle_psi\n${unitIds[0]},2026-06-01,13\n`;
        const { importId } = await check(db, await person('fleet manager'), 'readings', text);
        await db.update(importReading).set({ line: 130_000 });
        let end = () => {};
        const checked = new Promise<void>((resolve) => {
          end = resolve;
        });
        const staged = [10_000, 60_000, 70_000];
        const stagedTo = () => {
          if (staged.length === 1) end();
          return staged.shift() ?? 0;
        };
        const lines = await db.transaction(async (tx) => {
          const seen: number[] = [];
          for await (const line of stagedLines(tx, importId, { checked, stagedTo }))
            seen.push(line);
          return seen;
        });
        expect(lines).toEqual([0, 60_000, 60_000, 110_000, 130_000]);
      } finally {
        await open.close();
      }
    });

    it('is undone where it is cancelled, or its check fails', async () => {
      const cancelled = await beside(cancelImport);
      expect(cancelled).toEqual({
        applied: { ok: false, error: 'not checked' },
        ids: 0,
        entries: 0,
      });
      const failed = await beside(() => Promise.reject(new Error('no room for the refused rows')));
      expect(failed).toEqual({
        applied: new Error('no room for the refused rows'),
        ids: 0,
        entries: 0,
      });
    });
  });

  it('holds nobody up who records a reading of one of its units', async () => {
    const open = await openTestServer();
    try {
      const { db } = open;
      const { unitIds, person } = await makeFixture(db, 1);
      const [unitId = ''] = unitIds;
      const [manager, technician] = [await person('fleet manager'), await person('technician')];
      const file = `unit,read_on,idle_psi\n${unitId},2026-06-01,13\n`;
      const { importId } = await check(db, manager, 'readings', file);
      const payload = soundPayload(unitId, technician.personId);
      let recorded: unknown = null;
      const applied = await applyImport(db, {
        actor: manager,
        importId,
        now,
        onProgress: async ({ done }) => {
          if (done === 1) recorded = await recordReading(db, { actor: technician, payload, now });
        },
      });
      expect(recorded).toMatchObject({ ok: true });
      expect(applied).toMatchObject({ ok: true });
      expect(await db.$count(reading)).toBe(2);
      expect(await db.$count(judgingDue)).toBe(1);
      expect((await checkLedger(db)).faults).toEqual([]);
    } finally {
      await open.close();
    }
  });
});
