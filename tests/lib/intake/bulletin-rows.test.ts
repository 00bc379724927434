import { describe, expect, it } from 'vitest';
import { bulletinsOfRows } from '@/lib/intake/bulletin-rows';

const head: Record<string, string> = {
  number: 'SB-14',
  issue: '2',
  title: 'Pump seal',
  issued_on: '2026-01-15',
  kind: 'mandatory',
  due_on: '2026-09-30',
  conditions: 'The seal lets oil through.',
  actions: 'Fit revision C.',
  hours: '1.2',
  source: 'Invented maker',
  required_parts: 'pump C',
};
const range: Record<string, string> = {
  make: 'Corvane',
  built_from: '2018-11',
  built_to: '2019-08-14',
};

const rowsOf = (...rows: Record<string, string>[]) =>
  bulletinsOfRows(rows.map((row, k) => ({ row: (column) => row[column] ?? '', line: k + 2 })));

describe('bulletins of a file', () => {
  it('joins following rows of one number and issue as ranges, words from the first', () => {
    const { bulletins, problems } = rowsOf(
      { ...head, ...range },
      {
        number: 'SB-14',
        issue: '2',
        model: 'P2; P3',
        part: 'pump',
        revisions: 'A;B',
        odometer_from_km: '80000',
      },
    );
    expect(problems).toEqual([]);
    expect(bulletins).toMatchObject([
      {
        line: 2,
        kind: 'mandatory',
        dueOn: '2026-09-30',
        hours: 1.2,
        requiredParts: [{ part: 'pump', revisions: ['C'] }],
        rule: {
          anyOf: [
            { make: ['Corvane'], built: { from: '2018-11', to: '2019-08-14' } },
            {
              model: ['P2', 'P3'],
              fitted: [{ part: 'pump', fact: 'revision', is: 'in', values: ['A', 'B'] }],
              odometer: { from: 80_000 },
            },
          ],
        },
      },
    ]);
  });

  it.each([
    [{ kind: 'urgent' }, 'kind'],
    [{ due_on: '' }, 'due_on'],
    [{ issued_on: '15.01.2026' }, 'issued_on'],
    [{ hours: '1,2' }, 'hours'],
    [{ hours: '1e309' }, 'hours'],
    [{ hours: '-0' }, 'hours'],
    [{ hours: '٣' }, 'hours'],
    [{ hours: '200' }, 'hours'],
    [{ title: '' }, 'title'],
    [{ conditions: 'a\0b' }, 'conditions'],
    [{ actions: '\ud800' }, 'actions'],
    [{ source: 'x\u202Ey' }, 'source'],
    [{ number: 'N'.repeat(41) }, 'number'],
    [{ required_parts: 'pump C; gearbox' }, 'required_parts'],
    [{ supersedes_number: 'SB-14' }, 'supersedes_issue'],
    [{ built_from: '2018-13' }, 'built_from'],
    [{ built_from: '2019-09' }, 'built_from'],
    [{ model_year_from: '20x8' }, 'model_year_from'],
    [{ vin_from: '12A' }, 'vin_from'],
    [{ part: 'pump' }, 'revisions'],
    [{ revisions: 'A' }, 'part'],
    [{ part: 'pump', date_code_from: '1960' }, 'date_code_from'],
    [{ line: 'oily' }, 'line'],
    [{ idle_below_kpa: '68,9' }, 'idle_below_kpa'],
    [{ every_unit: 'yes' }, 'make'],
  ])('refuses %j in its column and takes nothing of the bulletin', (change, column) => {
    const { bulletins, problems } = rowsOf({ ...head, ...range, ...change });
    expect(bulletins).toEqual([]);
    expect(problems.map(({ field, line }) => [field, line])).toContainEqual([column, 2]);
    for (const { mend } of problems) expect(mend).not.toBe('');
  });

  it('asks of several parts at once, and names the cell that cannot be read', () => {
    const two = { part: 'pump', revisions: 'A', part_2: 'check valve', revisions_are_2: 'not in' };
    const { bulletins } = rowsOf({ ...head, ...two, revisions_2: 'B; C', date_code_to_2: '1931' });
    expect(bulletins[0]?.rule.anyOf).toEqual([
      {
        fitted: [
          { part: 'pump', fact: 'revision', is: 'in', values: ['A'] },
          { part: 'check valve', fact: 'revision', is: 'not in', values: ['B', 'C'] },
          { part: 'check valve', fact: 'date code', is: 'up to', value: '1931' },
        ],
      },
    ]);
    const wrong = rowsOf({ ...head, ...two, date_code_from_2: '1999' });
    expect(wrong.problems).toMatchObject([{ field: 'date_code_from_2', line: 2 }]);
    const unnamed = rowsOf({ ...head, part: 'pump', revisions: 'A', revisions_3: 'B' });
    expect(unnamed.problems).toMatchObject([{ field: 'part_3', line: 2 }]);
  });

  it('names the line of the range that is wrong', () => {
    const { problems } = rowsOf(
      { ...head, ...range },
      { number: 'SB-14', issue: '2', built_from: 'x' },
    );
    expect(problems).toMatchObject([{ line: 3, field: 'built_from', value: 'x' }]);
  });

  it('does not take an empty range for the whole fleet', () => {
    expect(rowsOf(head).bulletins).toEqual([]);
    expect(rowsOf({ ...head, every_unit: 'yes' }).bulletins).toMatchObject([
      { rule: { anyOf: [{ everyUnit: true }] } },
    ]);
  });

  it('refuses ranges of one bulletin that stand apart', () => {
    const other = { ...head, ...range, number: 'SB-15' };
    const { problems } = rowsOf({ ...head, ...range }, other, { ...head, ...range });
    expect(problems).toMatchObject([{ field: 'number', line: 4 }]);
  });
});
