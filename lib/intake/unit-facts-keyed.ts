import { type Part, parts } from '@/lib/analysis/reading';
import { type BuildDate, parseBuildDate } from '@/lib/bulletins/build-date';
import { normaliseVin, validateVin } from '@/lib/bulletins/vin';
import { keyedNumber } from '@/lib/intake/keyed-number';
import type { DayNumber } from '@/lib/measure';
import { isPlainLine } from '@/lib/plain-text';
import { failure, type Problem, type Result, success } from '@/lib/result';

/** Facts of a unit that somebody read from plate, label or part. What is left out stays as it is. */
export interface UnitFactsRead {
  readonly vin?: string;
  readonly isCheckDigitRequired?: boolean;
  readonly make?: string;
  readonly model?: string;
  readonly modelYear?: number;
  readonly engine?: string;
  readonly built?: BuildDate;
  readonly fitted: readonly {
    readonly part: Part;
    readonly revision: string | null;
    readonly dateCode: string | null;
  }[];
}

const longestName = 60;
const modelYears = { first: 1980, last: 2100 } as const;

/**
 * Facts of a unit as keyed, by field name; parts as `revision:pump` and `dateCode:pump`. An empty field
 * leaves the record as it is: nothing on record is emptied here. A VIN with a wrong check digit is
 * refused only where the digit is required; elsewhere it is a warning, and the number is taken.
 *
 * Example: `{ built: '3/19' }` with a wanted check digit gives March 2019, month precision.
 */
export function unitFactsKeyed(
  keyed: (field: string) => string,
  asOf: DayNumber,
): Result<UnitFactsRead> {
  const problems: Problem[] = [];
  const name = (field: string): string | undefined => {
    const text = keyed(field).trim();
    if (text === '') return undefined;
    if (text.length <= longestName && isPlainLine(text)) return text;
    problems.push({
      field,
      message: 'It holds characters that cannot be shown, or too many.',
      mend: `Write plain text of at most ${longestName} characters.`,
    });
    return undefined;
  };
  const taken = <Value>(result: Result<Value>): Value | undefined => {
    if (result.ok) return result.value;
    problems.push(...result.error);
    return undefined;
  };
  const market = keyed('isCheckDigitRequired');
  const isCheckDigitRequired = market === '' ? undefined : market === 'yes';
  const vinText = keyed('vin').trim();
  const vin =
    vinText === ''
      ? undefined
      : taken(validateVin(vinText, { isCheckDigitRequired: isCheckDigitRequired ?? true })) &&
        normaliseVin(vinText);
  const builtText = keyed('built').trim();
  const built = builtText === '' ? undefined : taken(parseBuildDate(builtText, asOf));
  const modelYear = yearOf(keyed('modelYear').trim(), problems);
  const [make, model, engine] = [name('make'), name('model'), name('engine')];
  const fitted = parts.flatMap((part) => {
    const revision = name(`revision:${part}`) ?? null;
    const dateCode = name(`dateCode:${part}`) ?? null;
    return revision === null && dateCode === null ? [] : [{ part, revision, dateCode }];
  });
  if (problems.length > 0) return failure(problems);
  return success({
    ...(vin !== undefined && { vin }),
    ...(isCheckDigitRequired !== undefined && { isCheckDigitRequired }),
    ...(make !== undefined && { make }),
    ...(model !== undefined && { model }),
    ...(modelYear !== undefined && { modelYear }),
    ...(engine !== undefined && { engine }),
    ...(built !== undefined && { built }),
    fitted,
  });
}

function yearOf(text: string, problems: Problem[]): number | undefined {
  if (text === '') return undefined;
  const year = keyedNumber(text, 'modelYear');
  const { first, last } = modelYears;
  if (year.ok && Number.isInteger(year.value) && year.value >= first && year.value <= last) {
    return year.value;
  }
  problems.push({
    field: 'modelYear',
    value: text.slice(0, 40),
    message: 'It is no model year.',
    mend: `Write four digits, ${first} to ${last}.`,
  });
  return undefined;
}
