import { describe, expect, it } from 'vitest';
import { dayFromIso } from '@/lib/calendar';
import { csvColumns } from '@/lib/intake/csv-columns';
import { fitmentOfRow, fitmentsOfRows } from '@/lib/intake/fitment-row';
import { readingOfRow } from '@/lib/intake/reading-row';
import { unitOfRow } from '@/lib/intake/unit-row';
import { fromKilopascals } from '@/lib/measure';

const rowOf = (cells: Record<string, string>) => (column: string) => cells[column] ?? '';
const sound = {
  reading: '1',
  unit: 'U1',
  read_on: '2026-06-30',
  technician: 'T25',
  odometer_mi: '10130',
  pressure_unit: 'inHg',
  idle_vacuum: '25.5',
  lowest: '18.5',
  recovery_s: '8.1',
  hold_minutes: '5',
  hold_loss: '0.5',
  line: 'dry',
  barometer_kpa: '97.8',
};
const read = (change: Partial<typeof sound> & Record<string, string> = {}) =>
  readingOfRow(rowOf({ ...sound, ...change }), 7, (unit) => (unit === 'U1' ? 210 : undefined));
const problemsOf = (change: Parameters<typeof read>[0]) => {
  const row = read(change);
  return row.ok ? [] : row.error;
};

describe('columns', () => {
  const columns = (header: string[]) => csvColumns(header, ['unit', 'shed']);
  it('are found by name in any order and letter case; others are left alone', () => {
    const found = columns(['Colour', ' SHED ', 'unit']);
    const row = found.ok ? found.value(['red', 'Pell', ' U1 ']) : null;
    expect([row?.('unit'), row?.('shed'), row?.('none')]).toEqual(['U1', 'Pell', '']);
  });

  it('are named when missing or doubled', () => {
    expect(columns(['unit'])).toMatchObject({ ok: false, error: [{ field: 'shed', line: 1 }] });
    expect(columns(['unit', 'shed', 'Unit'])).toMatchObject({
      ok: false,
      error: [{ field: 'unit' }],
    });
  });
});

describe('a reading', () => {
  it('becomes SI, with what was not measured as null', () => {
    const row = read({ lowest: '', line: '', barometer_kpa: '', pedal: 'Went hard' });
    expect(row.ok && row.value.reading).toMatchObject({
      id: '1',
      readOn: dayFromIso('2026-06-30'),
      lowest: null,
      holdTime: 300,
      line: 'not seen',
      pedal: 'went hard',
      barometer: null,
    });
    const idle = row.ok ? row.value.reading.idle : null;
    expect(fromKilopascals(idle ?? 0, 'inHg')).toBeCloseTo(25.5, 9);
  });

  it.each<[string, string]>([
    ['idle_vacuum', 'NaN'],
    ['idle_vacuum', '1e309'],
    ['idle_vacuum', '-0'],
    ['idle_vacuum', '24,5'],
    ['idle_vacuum', '٢٤'],
    ['idle_vacuum', '25.5\u0000'],
    ['idle_vacuum', '31.0'],
    ['idle_vacuum', '=1+1'],
    ['idle_vacuum', '0x19'],
    ['recovery_s', 'fast'],
    ['recovery_s', '601'],
    ['hold_minutes', '61'],
    ['barometer_kpa', '978'],
    ['pressure_unit', 'bar'],
    ['pressure_unit', ''],
    ['line', 'damp'],
    ['read_on', '30/06/2026'],
    ['read_on', '2026-02-30'],
    ['read_on', ''],
    ['read_on', '0026-06-30'],
    ['unit', 'U2'],
    ['unit', ''],
    ['reading', ''],
    ['technician', 'T\u202E25'],
    ['technician', '\uD800'],
    ['read_at', 'noon'],
    ['lowest', '26'],
    ['hold_loss', '26'],
  ])('with %s %j is refused, naming line and column', (column, value) => {
    const problems = problemsOf({ [column]: value });
    expect(problems.map(({ field }) => field)).toEqual([column]);
    expect(problems[0]).toMatchObject({ line: 7 });
    expect(problems[0]?.message).not.toBe('');
    expect(problems[0]?.mend).not.toBe('');
    expect(problems[0]?.value ?? '').not.toMatch(/[\p{Cc}\p{Cs}\u202E]/u);
  });

  it('names every problem of a row at once', () => {
    const fields = problemsOf({ idle_vacuum: 'x', read_on: 'y', line: 'z' }).map(
      ({ field }) => field,
    );
    expect(fields.toSorted()).toEqual(['idle_vacuum', 'line', 'read_on']);
  });

  it('stands as written where a figure is likelier in another unit, and says so', () => {
    const row = read({ idle_vacuum: '12.9', lowest: '9.3' });
    expect(row.ok && row.value.questions.map(({ id }) => id)).toEqual(['unit of measure']);
  });
});

describe('a unit', () => {
  const unit = (change: Record<string, string>) =>
    unitOfRow(rowOf({ unit: 'U1', elevation_m: '210', ...change }), 2);
  it('may stand below the sea, and not on the moon', () => {
    expect(unit({ elevation_m: '-86' })).toMatchObject({ ok: true, value: { elevation: -86 } });
    for (const elevation_m of ['', '9000', '1.6e3', '1,610', 'high']) {
      expect(unit({ elevation_m })).toMatchObject({ ok: false, error: [{ field: 'elevation_m' }] });
    }
  });

  it('keeps a name as it is, and refuses one that hides characters', () => {
    expect(unit({ unit: '=cmd' })).toMatchObject({ ok: true, value: { unit: '=cmd' } });
    expect(unit({ unit: 'U\u0007' })).toMatchObject({ ok: false });
    expect(unit({ unit: 'U'.repeat(41) })).toMatchObject({ ok: false });
  });
});

describe('fitments', () => {
  const fitment = (fitted_on: string, part: string, change: Record<string, string> = {}) =>
    fitmentOfRow(rowOf({ unit: 'U1', fitted_on, part, ...change }), 2, (unit) => unit === 'U1');

  it('end the life before them', () => {
    const rows = [
      fitment('2024-01-05', 'belt', { odometer_mi: '50000', why_replaced: 'preventive' }),
      fitment('2021-01-05', 'belt', { why_replaced: 'failed' }),
      fitment('2022-03-01', 'vacuum line or valve', { why_replaced: 'repaired' }),
    ].flatMap((row) => (row.ok ? [row.value] : []));
    const lives = fitmentsOfRows(rows);
    expect(lives).toHaveLength(3);
    expect(lives[0]).toMatchObject({
      part: 'belt',
      fittedOn: dayFromIso('2021-01-05'),
      removedOn: dayFromIso('2024-01-05'),
      whyRemoved: 'preventive',
    });
    expect(lives[1]).toMatchObject({ part: 'line', removedOn: null });
    expect(lives[2]?.fittedOdometer).toBeCloseTo(80_467.2, 6);
  });

  it.each([
    ['fitted_on', fitment('soon', 'belt')],
    ['part', fitment('2024-01-05', 'alternator')],
    ['part', fitment('2024-01-05', '')],
    ['unit', fitment('2024-01-05', 'belt', { unit: 'U9' })],
    ['why_replaced', fitment('2024-01-05', 'belt', { why_replaced: 'bored' })],
  ])('with a wrong %s are refused', (field, row) => {
    expect(row).toMatchObject({ ok: false, error: [{ field }] });
  });
});
