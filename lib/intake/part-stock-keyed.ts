import { type Part, parts } from '@/lib/analysis/reading';
import { isPlainLine } from '@/lib/plain-text';
import { failure, type Problem, type Result, success } from '@/lib/result';

export interface PartStockKeyed {
  readonly partNumber: string;
  readonly revision: string;
  readonly part: Part;
  readonly description: string;
  readonly supersededBy: string | null;
  readonly inStock: number;
  readonly leadTimeDays: number;
  /** What the form showed as on record; null for a revision that is new. */
  readonly seen: { readonly inStock: number; readonly leadTimeDays: number } | null;
}

const most = { inStock: 99_999, leadTimeDays: 730 } as const;

/**
 * A part revision as it is keyed into a form, or what must be mended in which field. Pieces and days
 * are whole and not below nothing; `seenInStock` and `seenLeadTimeDays` come back from the form.
 *
 * Example: `inStock` 1.5 is refused, since half a piece is in no store.
 */
export function partStockKeyed(
  keyed: Readonly<Record<string, string>>,
): Result<PartStockKeyed, Problem[]> {
  const problems: Problem[] = [];
  const text = (field: string, what: string, longest: number): string => {
    const value = (keyed[field] ?? '').trim();
    const problem = (message: string, mend: string) => problems.push({ field, message, mend });
    if (value === '') problem(`${what} is missing.`, 'Key it.');
    else if (value.length > longest || !isPlainLine(value)) {
      problem(`${what} cannot be kept so.`, `Key plain text of at most ${longest} characters.`);
    }
    return value;
  };
  const whole = (field: keyof typeof most, what: string): number => {
    const value = (keyed[field] ?? '').trim();
    const number = /^\d{1,6}$/.test(value) ? Number(value) : Number.NaN;
    if (number <= most[field]) return number;
    problems.push({
      field,
      value: value.slice(0, 40),
      message: `${what} is no whole number up to ${most[field]}.`,
      mend: 'Key digits alone.',
    });
    return 0;
  };
  const part = parts.find((one) => one === keyed.part);
  if (!part) {
    const mend = `Choose one: ${parts.join(', ')}.`;
    problems.push({ field: 'part', message: 'The part is not one of those kept.', mend });
  }
  const read = {
    partNumber: text('partNumber', 'The part number', 40),
    revision: text('revision', 'The revision', 20),
    description: text('description', 'The description', 120),
    supersededBy: keyed.supersededBy?.trim()
      ? text('supersededBy', 'The later revision', 20)
      : null,
    inStock: whole('inStock', 'The stock'),
    leadTimeDays: whole('leadTimeDays', 'The lead time'),
  };
  if (!part || problems.length > 0) return failure(problems);
  const seen =
    keyed.seenInStock === undefined || keyed.seenLeadTimeDays === undefined
      ? null
      : { inStock: Number(keyed.seenInStock), leadTimeDays: Number(keyed.seenLeadTimeDays) };
  return success({ ...read, part, seen });
}
