import { z } from 'zod';
import type { BulletinDraft } from '@/db/record/store-bulletin';
import { bulletinKinds } from '@/lib/bulletins/bulletin-state';
import { requiredPartsOf } from '@/lib/bulletins/required-parts';
import { keyedNumber } from '@/lib/intake/keyed-number';
import { type CellOf, type RangeCell, ruleOfCells } from '@/lib/intake/range-cells';
import type { DistanceUnit, PressureUnit } from '@/lib/measure';
import { failure, type Problem, type Result, success } from '@/lib/result';

export type Keyed = Readonly<Record<string, string>>;

/** Name and id of a cell of the range with this number in the form. */
export const rangeField = (range: number, cell: RangeCell): string => `r${range}-${cell}`;

const mostRanges = 50;

export const rangesOf = (keyed: Keyed): number[] =>
  (keyed.ranges ?? '0')
    .split(',')
    .filter((text) => /^\d{1,3}$/.test(text))
    .slice(0, mostRanges)
    .map(Number);

const text = (most: number, what: string) =>
  z
    .string()
    .trim()
    .min(1, `${what} is missing.`)
    .max(most, `${what} is too long.`)
    .refine((value) => value.isWellFormed() && !value.includes('\0'), `${what} cannot be read.`);

const head = z.object({
  number: text(30, 'The number'),
  issue: text(10, 'The issue'),
  title: text(120, 'The title'),
  issuedOn: z.iso.date({ error: 'The day of issue is no date.' }),
  kind: z.enum(bulletinKinds),
  dueOn: z.union([z.literal(''), z.iso.date()], { error: 'The due date is no date.' }),
  conditions: text(2000, 'What the bulletin says'),
  actions: text(2000, 'What is to be done'),
  hours: z.string(),
  source: text(200, 'The source'),
  supersedesId: z.union([z.literal(''), z.uuid()]),
  doesDoneCarry: z.enum(['yes', '']).default(''),
});

/** The bulletin that a form describes, or what must be mended in which field. */
export function draftOf(
  keyed: Keyed,
  measures: { readonly pressure: PressureUnit; readonly distance: DistanceUnit },
): Result<BulletinDraft> {
  const problems: Problem[] = [];
  const parsed = head.safeParse(keyed);
  for (const issue of parsed.error?.issues ?? []) {
    const field = String(issue.path[0] ?? 'number');
    problems.push({ field, message: issue.message, mend: 'Fill it in.' });
  }
  const hours = keyedNumber(keyed.hours ?? '', 'hours');
  if (!hours.ok) {
    const { message } = hours.error;
    const told = keyed.hours?.trim() ? message : 'The bay hours are missing.';
    problems.push({ ...hours.error, message: told, mend: 'Key the bay hours, 0 for none.' });
  } else if (hours.value >= 200) {
    const message = 'No job takes so long.';
    problems.push({ field: 'hours', message, mend: 'Key hours below 200.' });
  }
  const required = requiredPartsOf(keyed.requiredParts ?? '');
  if (!required.ok) problems.push(required.error);
  if (keyed.kind === 'mandatory' && keyed.dueOn === '') {
    const message = 'A mandatory bulletin has a due date.';
    problems.push({ field: 'dueOn', message, mend: 'Key the date.' });
  }
  const ranges = rangesOf(keyed);
  const cells = ranges.map(
    (range): CellOf =>
      (cell) =>
        keyed[rangeField(range, cell)] ?? '',
  );
  const rule = ruleOfCells(cells, measures);
  if (!rule.ok) {
    for (const { range, field, ...problem } of rule.error) {
      const id = rangeField(ranges[range] ?? 0, field as RangeCell);
      problems.push({ ...problem, field: id });
    }
  }
  if (!parsed.success || !hours.ok || !required.ok || !rule.ok || problems.length > 0)
    return failure(problems);
  const { dueOn, supersedesId, doesDoneCarry, ...words } = parsed.data;
  return success({
    ...words,
    dueOn: dueOn || null,
    hours: hours.value,
    rule: rule.value,
    requiredParts: required.value,
    supersedesId: supersedesId || null,
    doesDoneCarry: doesDoneCarry === 'yes',
  });
}
