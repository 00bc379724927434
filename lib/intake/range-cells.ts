import { parts } from '@/lib/analysis/reading';
import { parseRule } from '@/lib/bulletins/parse-rule';
import type { Rule } from '@/lib/bulletins/rule';
import { keyedNumber } from '@/lib/intake/keyed-number';
import { type DistanceUnit, type PressureUnit, toKilometres, toKilopascals } from '@/lib/measure';
import { failure, type Problem, type Result, success } from '@/lib/result';

const ownCells = [
  'make',
  'model',
  'modelYearFrom',
  'modelYearTo',
  'engine',
  'plant',
  'vinFrom',
  'vinTo',
  'builtFrom',
  'builtTo',
  'odometerFrom',
  'odometerTo',
  'ageFrom',
  'ageTo',
  'line',
  'recoverySlowerThan',
  'idleBelow',
  'lowestBelow',
  'everyUnit',
] as const;
/** Asked of a part that is fitted. */
export const partCells = [
  'part',
  'revisionsAre',
  'revisions',
  'dateCodeFrom',
  'dateCodeTo',
] as const;
/** A range may ask of several parts; cells of those after the first bear their place. */
export const partPlaces = [1, 2, 3, 4, 5] as const satisfies {
  readonly length: typeof parts.length;
};
export type PartPlace = (typeof partPlaces)[number];
type PartCell = (typeof partCells)[number];

/** What a range may name, each one cell of a form or of a file. */
export type RangeCell =
  | (typeof ownCells)[number]
  | PartCell
  | `${PartCell}${Exclude<PartPlace, 1>}`;

/** Cell of the part with this place in its range: `revisions`, then `revisions2`. */
export const partCell = (cell: PartCell, place: PartPlace): RangeCell =>
  place === 1 ? cell : `${cell}${place}`;

const rangeCells: ReadonlySet<string> = new Set([
  ...ownCells,
  ...partPlaces.flatMap((place) => partCells.map((cell) => partCell(cell, place))),
]);
export type CellOf = (cell: RangeCell) => string;

/** A problem of one of several ranges; `field` is the cell. */
export interface RangeProblem extends Problem {
  readonly range: number;
}

/** First cell of each condition, as a problem of the rule's own parser names it. */
const cellOfCondition: Readonly<Record<string, RangeCell>> = {
  modelYear: 'modelYearFrom',
  vinSequence: 'vinFrom',
  built: 'builtFrom',
  odometer: 'odometerFrom',
  ageMonths: 'ageFrom',
  symptom: 'line',
};
const isCell = (text: string): text is RangeCell => rangeCells.has(text);

const listOf = (text: string): string[] =>
  text
    .split(/[;,]/)
    .map((one) => one.trim())
    .filter((one) => one !== '');

interface Measures {
  readonly pressure: PressureUnit;
  readonly distance: DistanceUnit;
}

interface ReadRange {
  /** As `parseRule` takes it. */
  readonly conditions: object;
  /** Cell of each condition on a fitted part, in order. */
  readonly fittedCells: readonly RangeCell[];
}

/** One range; a number that cannot be read is a problem of its cell. */
function rangeOf(cell: CellOf, measures: Measures, problems: Problem[]): ReadRange {
  const text = (name: RangeCell) => cell(name).trim();
  const listed = (name: RangeCell) => (text(name) ? { [name]: listOf(text(name)) } : {});
  const number = (name: RangeCell, convert = (value: number) => value): number | undefined => {
    if (text(name) === '') return undefined;
    const keyed = keyedNumber(text(name), name);
    if (keyed.ok) return convert(keyed.value);
    problems.push(keyed.error);
    return undefined;
  };
  const between = <Value>(key: string, from: Value | undefined, to: Value | undefined) =>
    from === undefined && to === undefined
      ? {}
      : { [key]: { ...(from !== undefined && { from }), ...(to !== undefined && { to }) } };
  const asText = (name: RangeCell) => text(name) || undefined;
  const kilometres = (value: number) => toKilometres(value, measures.distance);
  const kilopascals = (value: number) => toKilopascals(value, measures.pressure);
  const symptom = {
    ...(text('line') && { line: listOf(text('line').toLowerCase()) }),
    ...defined('recoverySlowerThan', number('recoverySlowerThan')),
    ...defined('idleBelow', number('idleBelow', kilopascals)),
    ...defined('lowestBelow', number('lowestBelow', kilopascals)),
  };
  const fitted = partPlaces.flatMap((place) => fittedOf(place, text, problems));
  const conditions = {
    ...listed('make'),
    ...listed('model'),
    ...between('modelYear', number('modelYearFrom'), number('modelYearTo')),
    ...listed('engine'),
    ...listed('plant'),
    ...between('vinSequence', asText('vinFrom'), asText('vinTo')),
    ...between('built', asText('builtFrom'), asText('builtTo')),
    ...(fitted.length > 0 && { fitted: fitted.map(({ condition }) => condition) }),
    ...between('odometer', number('odometerFrom', kilometres), number('odometerTo', kilometres)),
    ...between('ageMonths', number('ageFrom'), number('ageTo')),
    ...(Object.keys(symptom).length > 0 && { symptom }),
    ...(text('everyUnit') && { everyUnit: text('everyUnit').toLowerCase() === 'yes' }),
  };
  return { conditions, fittedCells: fitted.map((one) => one.cell) };
}

const defined = (key: string, value: number | undefined) =>
  value === undefined ? {} : { [key]: value };

/** What is asked of one part, each condition with its cell. */
function fittedOf(
  place: PartPlace,
  text: (name: RangeCell) => string,
  problems: Problem[],
): { readonly cell: RangeCell; readonly condition: object }[] {
  const cell = (name: PartCell) => partCell(name, place);
  const keyed = (name: PartCell) => text(cell(name));
  const part = parts.find((one) => one === keyed('part').toLowerCase()) ?? null;
  const asked = {
    revisions: {
      fact: 'revision',
      is: keyed('revisionsAre') || 'in',
      values: listOf(keyed('revisions')),
    },
    dateCodeFrom: { fact: 'date code', is: 'from', value: keyed('dateCodeFrom') },
    dateCodeTo: { fact: 'date code', is: 'up to', value: keyed('dateCodeTo') },
  } as const;
  const named = (Object.keys(asked) as (keyof typeof asked)[]).filter((name) => keyed(name) !== '');
  if (part === null) {
    if (named.length > 0 || keyed('part') !== '') {
      problems.push({
        field: cell('part'),
        value: keyed('part').slice(0, 40),
        message: 'The part is not one of those kept.',
        mend: `Name the part: ${parts.join(', ')}.`,
      });
    }
    return [];
  }
  if (named.length === 0) {
    problems.push({
      field: cell('revisions'),
      message: `Nothing is asked of the ${part}.`,
      mend: 'Give its revisions or its date codes, or name no part.',
    });
  }
  return named.map((name) => ({ cell: cell(name), condition: { part, ...asked[name] } }));
}

/**
 * A rule from the cells of its ranges: any of them, each all of the conditions that it names. Pressures
 * and distances are in the measures given. All that is asked of several parts must hold. A range that names nothing is refused, so that one left
 * empty by mistake does not cover the fleet.
 *
 * Example: make `Alder; Birch` and builtFrom `2018-11` cover both makes from November 2018 on.
 */
export function ruleOfCells(
  ranges: readonly CellOf[],
  measures: Measures,
): Result<Rule, readonly RangeProblem[]> {
  const problems: RangeProblem[] = [];
  const read = ranges.map((cell, range) => {
    const own: Problem[] = [];
    const one = rangeOf(cell, measures, own);
    problems.push(...own.map((problem) => ({ ...problem, range })));
    return one;
  });
  if (problems.length > 0) return failure(problems);
  const rule = parseRule({ anyOf: read.map(({ conditions }) => conditions) });
  if (rule.ok) return success(rule.value);
  return failure(
    rule.error.map(({ field, ...problem }) => {
      const [, at = '0', condition = '', end] = field.split('.');
      const range = Number(at);
      const fitted = condition === 'fitted' ? read[range]?.fittedCells[Number(end)] : undefined;
      const cell = fitted ?? cellNamed(condition, end);
      const value = ranges[range]?.(cell).slice(0, 40);
      return { ...problem, ...(value && { value }), field: cell, range };
    }),
  );
}

/** First or last cell of a condition, as the rule's own parser names it. */
function cellNamed(condition: string, end: string | undefined): RangeCell {
  const first = isCell(condition) ? condition : (cellOfCondition[condition] ?? 'make');
  const last = first.replace(/From$/, 'To');
  return end === 'to' && isCell(last) ? last : first;
}
