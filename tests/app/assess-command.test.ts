import { execFile } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { isoFromDay } from '@/lib/calendar';

const asOf = 20_634;
const day = (ago: number) => isoFromDay(asOf - ago);
const header =
  'reading,unit,read_on,technician,odometer_mi,pressure_unit,idle_vacuum,lowest,recovery_s,hold_minutes,hold_loss,line,barometer_kpa';

let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'assess-'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const file = (name: string, text: string) => {
  const path = join(folder, name);
  writeFileSync(path, text);
  return path;
};
const units = () =>
  file(
    'units.csv',
    'unit,shed,elevation_m,built_on,build_range,tracked_from\nU1,Pell,12,2018-01-05,B18A,2021-01-01\nU2,Pell,12,2018-01-05,B18A,2021-01-01\n=U3,Pell,1610,,,\n',
  );
let number = 0;
const row = (unit: string, ago: number, idle: string, rest = '9.6,8.1,5,0.2,dry,') =>
  `${++number},${unit},${day(ago)},T1,${40_000 - 40 * ago},psi,${idle},${rest}`;
const steady = (unit: string) => [364, 273, 182, 91, 3].map((ago) => row(unit, ago, '13.0'));
const readings = (...rows: string[]) => file('readings.csv', `${[header, ...rows].join('\n')}\n`);

const run = (...args: string[]) =>
  new Promise<{ code: number; out: string; err: string }>((resolve) => {
    execFile(
      process.execPath,
      ['app/_cli/assess.mjs', ...args],
      { maxBuffer: 64 * 1024 * 1024 },
      (error, out, err) =>
        resolve({ code: typeof error?.code === 'number' ? error.code : 0, out, err }),
    );
  });
const assess = (path: string, ...args: string[]) =>
  run('--units', units(), '--readings', path, '--as-of', isoFromDay(asOf), ...args);

describe('npm run assess', () => {
  it('prints every unit as JSON, earliest need first', async () => {
    const path = readings(...steady('U1'), row('U2', 2, '6.5', '4.5,8.1,5,0.2,dry,'));
    const { code, out, err } = await assess(path, '--format', 'json');
    expect([code, err]).toEqual([0, '']);
    const fleet = JSON.parse(out);
    expect(fleet.map(({ unit, mark }: { unit: string; mark: string }) => [unit, mark])).toEqual([
      ['U2', 'Out of service'],
      ['=U3', 'Unread'],
      ['U1', 'Holding'],
    ]);
    expect(fleet[2]).toMatchObject({
      asOf: isoFromDay(asOf),
      readings: 5,
      idle: { slopePsiPerYear: 0 },
      belt: { due: null, milesLeft: null },
      cause: { said: 'none shown' },
    });
    expect(fleet[2].idle.latestSlePsi).toBeCloseTo(13 / 0.99858, 2);
    expect(fleet[0].wear).toMatchObject({ whyNone: 'too few', median: null });
    expect(fleet[1].wear).toMatchObject({ whyNone: 'no reading', score: null });
    expect(fleet[0].reasons[0]).toMatchObject({ rule: 'idle below stop', asRead: true });
  });

  it('writes CSV with formula cells defused, and a table', async () => {
    const path = readings(...steady('U1'));
    const out = join(folder, 'fleet.csv');
    const written = await assess(path, '--format', 'csv', '--out', out, '--pressure-unit', 'kPa');
    expect(written).toEqual({ code: 0, out: '', err: '' });
    const rows = parse(readFileSync(out, 'utf8'), { columns: true }) as Record<string, string>[];
    expect(rows.map(({ unit }) => unit)).toEqual(["'=U3", 'U2', 'U1']);
    expect(Number(rows[2]?.idle_as_read_kPa)).toBeCloseTo(89.632, 2);
    const table = await assess(path);
    expect(table.out.split('\n')[0]).toMatch(/^Unit +Mark +Idle psi/);
    expect(table.out).toMatch(/U1 +Holding +13\.0/);
  });

  it('judges the good rows, names the bad ones and ends with 2', async () => {
    const bad = [
      row('U1', 40, '24,5'),
      row('U9', 40, '13.0'),
      row('U1', 30, '25.5'),
      `${row('U1', 20, '13.0')},1`,
    ];
    const path = readings(...steady('U1'), ...bad);
    const { code, out, err } = await assess(path, '--format', 'json');
    expect(code).toBe(2);
    expect(JSON.parse(out).at(-1)).toMatchObject({ unit: 'U1', readings: 5 });
    for (const said of [
      'line 7, row',
      'line 8, unit "U9"',
      'line 9, idle_vacuum',
      'line 10, row',
    ]) {
      expect(err).toContain(said);
    }
    expect(err).toContain('Is that inHg?');
  });

  it('says of a likely wrong unit that it was judged as written', async () => {
    const path = readings(...steady('U1').map((line) => line.replace('psi,13.0', 'inHg,13.0')));
    const { code, err } = await assess(path);
    expect(code).toBe(0);
    expect(err).toContain('line 2, idle_vacuum: judged as written.');
  });

  it.each<[string, (text: string) => string]>([
    ['a byte order mark', (text) => `\uFEFF${text}`],
    ['CRLF', (text) => text.replaceAll('\n', '\r\n')],
    ['semicolons', (text) => text.replaceAll(',', ';')],
    ['tabs', (text) => text.replaceAll(',', '\t')],
    [
      'quoted line breaks',
      (text) => text.replaceAll(',T1,', ',"T\n1",').replaceAll('"T\n1"', '"T1"'),
    ],
    ['blank lines at the end', (text) => `${text}\n\n`],
  ])('reads %s', async (_, change) => {
    const path = file('odd.csv', change(`${[header, ...steady('U1')].join('\n')}\n`));
    const { code, out, err } = await assess(path, '--format', 'json');
    expect([code, err]).toEqual([0, '']);
    expect(JSON.parse(out).at(-1)).toMatchObject({ unit: 'U1', readings: 5 });
  });

  it('counts lines through quoted line breaks, and refuses decimal commas', async () => {
    const wide = `${header},note`;
    const noted = steady('U1').map((line) => `${line},"two\nlines"`);
    const late = `${row('U1', 1, 'x')},`;
    const path = file('noted.csv', `${[wide, ...noted, late].join('\n')}\n`);
    expect((await assess(path)).err).toContain('line 12, idle_vacuum "x"');
    const comma = readings(...steady('U1'), row('U1', 1, '13.0').replaceAll(',', ';'));
    expect((await assess(comma)).code).toBe(2);
    const semicolons = file(
      'comma.csv',
      `${[header, ...steady('U1')].join('\n').replaceAll(',', ';').replaceAll('13.0', '13,0')}\n`,
    );
    const refused = await assess(semicolons);
    expect(refused.code).toBe(2);
    expect(refused.err).toContain('The comma could mean two things.');
  });

  it('refuses the same reading twice, and a broken quote, without losing the rest', async () => {
    const lines = steady('U1');
    const twice = await assess(readings(...lines, lines[4] ?? ''));
    expect(twice.code).toBe(2);
    expect(twice.err).toContain('The same reading stands on line 6.');
    const broken = await assess(
      readings(...lines, row('U1', 1, '13.0').replace('T1', 'T"1')),
      '--format',
      'json',
    );
    expect(broken.code).toBe(2);
    expect(JSON.parse(broken.out).at(-1)).toMatchObject({ unit: 'U1', readings: 5 });
  });

  it.each<[string, () => Promise<{ code: number; out: string; err: string }>, string]>([
    ['a missing file', () => assess(join(folder, 'none.csv')), 'there is no such file'],
    ['a folder', () => assess(folder), 'this is a folder'],
    ['an empty file', () => assess(file('empty.csv', '')), 'no first row'],
    ['no text', () => assess(file('bin.csv', 'a\u0000b')), 'no plain text'],
    [
      'a missing column',
      () => assess(file('few.csv', 'reading,unit\n')),
      'There is no column idle_vacuum.',
    ],
    ['no units', () => run('--readings', 'x'), '--units is missing'],
    [
      'a wrong day',
      () => run('--units', 'x', '--readings', 'x', '--as-of', '30.6.2026'),
      'is no day',
    ],
    [
      'a wrong unit',
      () => run('--units', 'x', '--readings', 'x', '--pressure-unit', 'bar'),
      'psi, inHg or kPa',
    ],
    [
      'a wrong format',
      () => run('--units', 'x', '--readings', 'x', '--format', 'xml'),
      'table, csv or json',
    ],
    ['an unknown option', () => run('--frobnicate'), 'frobnicate'],
  ])('ends with 1 on %s', async (_, start, said) => {
    const { code, out, err } = await start();
    expect([code, out]).toEqual([1, '']);
    expect(err).toContain(said);
  });

  it('explains itself', async () => {
    const { code, out } = await run('--help');
    expect(code).toBe(0);
    expect(out).toContain('--as-of DATE');
    expect(out).toContain('service information in force');
  });
});
