import { failure, type Problem, type Result, success } from '@/lib/result';

const plainNumber = /^\d+(\.\d+)?$/;

/**
 * A number as a person keys it: ASCII digits with at most one decimal point, never a guess.
 * `24,5` could be 24.5 or 245 and is asked back; exponents, signs and other scripts' digits are too.
 * `-0` and an empty text are no numbers.
 *
 * @example keyedNumber('24.5', 'idle') is { ok: true, value: 24.5 }
 */
export function keyedNumber(text: string, field: string, line?: number): Result<number, Problem> {
  const trimmed = text.trim();
  if (trimmed.length <= 15 && plainNumber.test(trimmed)) return success(Number(trimmed));
  const problem = (message: string, mend: string) =>
    failure({
      field,
      ...(line !== undefined && { line }),
      value: text.slice(0, 40),
      message,
      mend,
    });
  if (trimmed === '') return problem('There is no number.', 'Key the figure that the gauge shows.');
  if (/^\d+,\d+$/.test(trimmed)) {
    return problem(
      'The comma could mean two things.',
      'Key a point for decimals, and no mark for thousands.',
    );
  }
  if (/^-/.test(trimmed)) {
    return problem('It is below zero.', 'Key vacuum as the figure below ambient, without a sign.');
  }
  return problem('It is not a plain number.', 'Key digits 0 to 9 with at most one decimal point.');
}
