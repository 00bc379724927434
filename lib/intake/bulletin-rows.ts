import { type BulletinKind, bulletinKinds } from '@/lib/bulletins/bulletin-state';
import { type RequiredPart, requiredPartsOf } from '@/lib/bulletins/required-parts';
import type { Rule } from '@/lib/bulletins/rule';
import { isoFromDay } from '@/lib/calendar';
import { CellReader } from '@/lib/intake/csv-cell';
import type { CsvRow } from '@/lib/intake/csv-columns';
import {
  partCell,
  partCells,
  partPlaces,
  type RangeCell,
  ruleOfCells,
} from '@/lib/intake/range-cells';
import { failure, type Problem, type Result, success } from '@/lib/result';

export const bulletinColumns = [
  'number',
  'issue',
  'title',
  'issued_on',
  'kind',
  'conditions',
  'actions',
  'hours',
  'source',
] as const;

/** Of a bulletin, where it has them. */
export const furtherColumns = [
  'due_on',
  'required_parts',
  'supersedes_number',
  'supersedes_issue',
  'done_carries',
] as const;

const ownColumns = {
  make: 'make',
  model: 'model',
  modelYearFrom: 'model_year_from',
  modelYearTo: 'model_year_to',
  engine: 'engine',
  plant: 'plant',
  vinFrom: 'vin_from',
  vinTo: 'vin_to',
  builtFrom: 'built_from',
  builtTo: 'built_to',
  odometerFrom: 'odometer_from_km',
  odometerTo: 'odometer_to_km',
  ageFrom: 'age_from_months',
  ageTo: 'age_to_months',
  line: 'line',
  recoverySlowerThan: 'recovery_slower_than_s',
  idleBelow: 'idle_below_kpa',
  lowestBelow: 'lowest_below_kpa',
  everyUnit: 'every_unit',
} as const;
const partColumns = {
  part: 'part',
  revisionsAre: 'revisions_are',
  revisions: 'revisions',
  dateCodeFrom: 'date_code_from',
  dateCodeTo: 'date_code_to',
} as const;

/**
 * Columns of a range; a file measures in kilometres, kilopascals, seconds and months. Those of a
 * second part end in `_2`.
 */
export const rangeColumns = {
  ...ownColumns,
  ...Object.fromEntries(
    partPlaces.flatMap((place) =>
      partCells.map((cell) => [
        partCell(cell, place),
        place === 1 ? partColumns[cell] : `${partColumns[cell]}_${place}`,
      ]),
    ),
  ),
} as Readonly<Record<RangeCell, string>>;

export interface BulletinRow {
  readonly row: CsvRow;
  readonly line: number;
}

export interface BulletinRead {
  /** First line of the bulletin in its file. */
  readonly line: number;
  readonly number: string;
  readonly issue: string;
  readonly title: string;
  readonly issuedOn: string;
  readonly kind: BulletinKind;
  readonly dueOn: string | null;
  readonly conditions: string;
  readonly actions: string;
  readonly hours: number;
  readonly requiredParts: readonly RequiredPart[];
  readonly source: string;
  readonly supersedes: { readonly number: string; readonly issue: string } | null;
  readonly doesDoneCarry: boolean;
  readonly rule: Rule;
}

const longestText = 2_000;
const mostHours = 200;

/** Text over several lines, shown as it is. */
function paragraph(cells: CellReader, column: string, text: string): string {
  const isPlain = text.isWellFormed() && !/[\0\u202A-\u202E\u2066-\u2069]/.test(text);
  if (text === '') cells.problem(column, 'It is empty.', 'Fill it in.');
  else if (text.length > longestText || !isPlain) {
    cells.problem(
      column,
      'It holds characters that cannot be shown, or too many.',
      `Write plain text of at most ${longestText} characters.`,
    );
  }
  return text;
}

function bulletinOf(rows: readonly BulletinRow[]): Result<BulletinRead> {
  const [{ row, line } = { row: () => '', line: 0 }] = rows;
  const cells = new CellReader(row, line);
  const kind = cells.word('kind', bulletinKinds);
  if (row('kind') === '') cells.problem('kind', 'It is empty.', 'Fill it in.');
  const due = cells.day('due_on');
  if (kind === 'mandatory' && row('due_on') === '') {
    cells.problem('due_on', 'A mandatory bulletin has a due date.', 'Write year-month-day.');
  }
  const hours = cells.number('hours');
  if (row('hours') === '') cells.problem('hours', 'It is empty.', 'Write 0 for none.');
  if (hours !== null && hours >= mostHours) {
    cells.problem('hours', 'No job takes so long.', `Write hours below ${mostHours}.`);
  }
  const required = requiredPartsOf(row('required_parts'));
  if (!required.ok) {
    const { message, mend } = required.error;
    cells.problem('required_parts', message, mend);
  }
  const supersedes = {
    number: cells.name('supersedes_number'),
    issue: cells.name('supersedes_issue'),
  };
  if ((supersedes.number === null) !== (supersedes.issue === null)) {
    cells.problem(
      'supersedes_issue',
      'The earlier issue is half named.',
      'Write number and issue.',
    );
  }
  const read = {
    line,
    number: cells.requiredName('number'),
    issue: cells.requiredName('issue'),
    title: paragraph(cells, 'title', row('title')),
    issuedOn: isoFromDay(cells.requiredDay('issued_on')),
    dueOn: due === null ? null : isoFromDay(due),
    conditions: paragraph(cells, 'conditions', row('conditions')),
    actions: paragraph(cells, 'actions', row('actions')),
    hours: hours ?? 0,
    requiredParts: required.ok ? required.value : [],
    source: paragraph(cells, 'source', row('source')),
    supersedes:
      supersedes.number !== null && supersedes.issue !== null
        ? { number: supersedes.number, issue: supersedes.issue }
        : null,
    doesDoneCarry: cells.word('done_carries', ['yes', 'no']) === 'yes',
  };
  const rule = ruleOfCells(
    rows.map((one) => (cell) => one.row(rangeColumns[cell])),
    { pressure: 'kPa', distance: 'km' },
  );
  const problems: Problem[] = [...cells.problems];
  if (!rule.ok) {
    for (const { range, field, ...problem } of rule.error) {
      const at = rows[range]?.line ?? line;
      problems.push({ ...problem, field: rangeColumns[field as RangeCell], line: at });
    }
  }
  if (problems.length > 0 || !rule.ok || kind === null) return failure(problems);
  return success({ ...read, kind, rule: rule.value });
}

/**
 * Bulletins of a file, one row a range: rows that follow each other with the same number and issue are
 * ranges of one bulletin, whose words stand in the first of them. What cannot be read is named by line
 * and column, and nothing of that bulletin is taken.
 *
 * Example: two rows of SB-14, issue 2, give one bulletin with two ranges.
 */
export function bulletinsOfRows(rows: readonly BulletinRow[]): {
  readonly bulletins: readonly BulletinRead[];
  readonly problems: readonly Problem[];
} {
  const groups: BulletinRow[][] = [];
  const lineOf = new Map<string, number>();
  const problems: Problem[] = [];
  const keyOf = ({ row }: BulletinRow) => `${row('number')}\u0000${row('issue')}`;
  for (const one of rows) {
    const group = groups.at(-1);
    if (group?.[0] && keyOf(group[0]) === keyOf(one)) group.push(one);
    else groups.push([one]);
  }
  const bulletins: BulletinRead[] = [];
  for (const group of groups) {
    const [first] = group;
    if (!first) continue;
    const before = lineOf.get(keyOf(first));
    if (before !== undefined) {
      problems.push({
        field: 'number',
        line: first.line,
        value: first.row('number').slice(0, 40),
        message: `This number and issue stand in line ${before} already.`,
        mend: 'Put the ranges of one bulletin one below the other.',
      });
      continue;
    }
    lineOf.set(keyOf(first), first.line);
    const read = bulletinOf(group);
    if (read.ok) bulletins.push(read.value);
    else problems.push(...read.error);
  }
  return { bulletins, problems };
}
