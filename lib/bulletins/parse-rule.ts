import { z } from 'zod';
import { parts } from '@/lib/analysis/reading';
import { buildDateFromIso } from '@/lib/bulletins/build-date';
import type { Rule } from '@/lib/bulletins/rule';
import { failure, type Result, success } from '@/lib/result';

const name = z.string().trim().min(1, 'A name is empty.').max(60, 'A name is over 60 characters.');
const names = z.array(name).min(1, 'No name is given.').max(100, 'Over 100 names are given.');
const quantity = z.number().nonnegative('It is below nothing.').max(10_000_000, 'It is too large.');
const wordsOnly = (words: readonly string[]) => `It is none of ${words.join(', ')}.`;

const between = <Value extends z.ZodType<number | string>>(
  value: Value,
  isInOrder: (from: number | string, to: number | string) => boolean,
) =>
  z
    .strictObject({ from: value.optional(), to: value.optional() })
    .refine(({ from, to }) => from !== undefined || to !== undefined, 'Neither end is given.')
    .refine(
      ({ from, to }) => from === undefined || to === undefined || isInOrder(from, to),
      'It ends before it begins.',
    );

const isNumberInOrder = (from: number | string, to: number | string) => Number(from) <= Number(to);

const buildDay = z
  .string()
  .refine(
    (text) => buildDateFromIso(text) !== null,
    'It is no month, such as 2018-11, and no day, such as 2018-11-03.',
  );
const isBuildInOrder = (from: number | string, to: number | string) =>
  (buildDateFromIso(String(from))?.from ?? 0) <= (buildDateFromIso(String(to))?.to ?? 0);
const dateCode = z
  .string()
  .regex(
    /^\d{2}(0[1-9]|[1-4]\d|5[0-3])$/,
    'It is no year and week, such as 1931 for week 31 of 2019.',
  );
const noYear = 'It is no year from 1960 to 2100.';
const modelYear = z.int(noYear).min(1960, noYear).max(2100, noYear);
const noMonths = 'It is no whole number of months up to 1200.';
const months = z.int(noMonths).nonnegative(noMonths).max(1200, noMonths);
const sequence = z.string().regex(/^\d{1,6}$/, 'It is not the digits at the end of a VIN.');

const fitted = z.union([
  z.strictObject({
    part: z.enum(parts),
    fact: z.enum(['revision', 'date code']),
    is: z.enum(['in', 'not in']),
    values: names,
  }),
  z.strictObject({
    part: z.enum(parts),
    fact: z.literal('date code'),
    is: z.enum(['before', 'after', 'from', 'up to']),
    value: dateCode,
  }),
]);

const lines = ['dry', 'film', 'wet'] as const;
const symptom = z
  .strictObject({
    line: z
      .array(z.enum(lines, wordsOnly(lines)))
      .min(1)
      .optional(),
    recoverySlowerThan: quantity.optional(),
    idleBelow: quantity.optional(),
    lowestBelow: quantity.optional(),
  })
  .refine((conditions) => Object.keys(conditions).length > 0, 'No symptom is named.');

const nothingAsked = 'Nothing is asked.';

const range = z
  .strictObject({
    make: names.optional(),
    model: names.optional(),
    modelYear: between(modelYear, isNumberInOrder).optional(),
    engine: names.optional(),
    plant: names.optional(),
    vinSequence: between(sequence, isNumberInOrder).optional(),
    built: between(buildDay, isBuildInOrder).optional(),
    fitted: z.array(fitted).min(1).max(20).optional(),
    odometer: between(quantity, isNumberInOrder).optional(),
    ageMonths: between(months, isNumberInOrder).optional(),
    symptom: symptom.optional(),
    everyUnit: z.literal(true).optional(),
  })
  .refine((conditions) => Object.keys(conditions).length > 0, nothingAsked)
  .refine(
    ({ everyUnit, ...conditions }) => !everyUnit || Object.keys(conditions).length === 0,
    'Every unit is covered, and yet a condition is named.',
  );

const rule = z.strictObject({ anyOf: z.array(range).min(1).max(50) });

/**
 * A rule from text that anybody may have written: typed, or the problems by field, `anyOf.0.built`.
 * Ends that cross, empty lists and unknown words are refused, since each would quietly cover nothing
 * or everything.
 *
 * Source: 49 CFR 573.6(c)(2) for a population by make, line, model year and inclusive dates of
 * manufacture.
 */
export function parseRule(input: unknown): Result<Rule> {
  const parsed = rule.safeParse(input);
  if (parsed.success) return success(parsed.data);
  return failure(
    parsed.error.issues.map((issue) => ({
      field: issue.path.join('.') || 'rule',
      message: issue.message,
      mend:
        issue.message === nothingAsked
          ? 'Name a condition, or say that it covers every unit.'
          : 'Correct this condition, or leave it out.',
    })),
  );
}
