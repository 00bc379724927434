import { z } from 'zod';
import { parts } from '@/lib/analysis/reading';
import { buildDateFromIso } from '@/lib/bulletins/build-date';
import type { Rule } from '@/lib/bulletins/rule';
import { failure, type Result, success } from '@/lib/result';

const name = z.string().trim().min(1).max(60);
const names = z.array(name).min(1).max(100);
const quantity = z.number().nonnegative().max(10_000_000);

const between = <Value extends z.ZodType<number | string>>(
  value: Value,
  isInOrder: (from: number | string, to: number | string) => boolean,
) =>
  z
    .strictObject({ from: value.optional(), to: value.optional() })
    .refine(({ from, to }) => from !== undefined || to !== undefined, 'name at least one end')
    .refine(
      ({ from, to }) => from === undefined || to === undefined || isInOrder(from, to),
      'ends before it begins',
    );

const isNumberInOrder = (from: number | string, to: number | string) => Number(from) <= Number(to);

const buildDay = z
  .string()
  .refine(
    (text) => buildDateFromIso(text) !== null,
    'write the month, 2018-11, or the day, 2018-11-03',
  );
const isBuildInOrder = (from: number | string, to: number | string) =>
  (buildDateFromIso(String(from))?.from ?? 0) <= (buildDateFromIso(String(to))?.to ?? 0);
const dateCode = z
  .string()
  .regex(/^\d{2}(0[1-9]|[1-4]\d|5[0-3])$/, 'write year and week, 1931 for week 31 of 2019');
const sequence = z.string().regex(/^\d{1,6}$/, 'write the digits at the end of the VIN');

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

const symptom = z
  .strictObject({
    line: z
      .array(z.enum(['dry', 'film', 'wet']))
      .min(1)
      .optional(),
    recoverySlowerThan: quantity.optional(),
    idleBelow: quantity.optional(),
    lowestBelow: quantity.optional(),
  })
  .refine((conditions) => Object.keys(conditions).length > 0, 'name a symptom');

const range = z
  .strictObject({
    make: names.optional(),
    model: names.optional(),
    modelYear: between(z.int().min(1960).max(2100), isNumberInOrder).optional(),
    engine: names.optional(),
    plant: names.optional(),
    vinSequence: between(sequence, isNumberInOrder).optional(),
    built: between(buildDay, isBuildInOrder).optional(),
    fitted: z.array(fitted).min(1).max(20).optional(),
    odometer: between(quantity, isNumberInOrder).optional(),
    ageMonths: between(z.int().nonnegative().max(1200), isNumberInOrder).optional(),
    symptom: symptom.optional(),
    everyUnit: z.literal(true).optional(),
  })
  .refine((conditions) => Object.keys(conditions).length > 0, 'name a condition, or every unit')
  .refine(
    ({ everyUnit, ...conditions }) => !everyUnit || Object.keys(conditions).length === 0,
    'every unit leaves no room for other conditions',
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
      mend: 'Correct this condition, or leave it out.',
    })),
  );
}
