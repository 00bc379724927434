import { keyedNumber } from '@/lib/intake/keyed-number';
import { failure, type Problem, type Result, success } from '@/lib/result';

/** How long what kind of record is kept; null is for as long as the unit is in the fleet. */
export interface RetentionPolicy {
  /** All of a unit that has left goes so many months after. */
  readonly monthsAfterLeaving: number;
  readonly yearsOfReadings: number | null;
  /** Of verdicts that a later one has replaced. */
  readonly yearsOfVerdicts: number | null;
  /** Of what the ledger's entries say; that they stand, and their digests, are kept for ever. */
  readonly yearsOfPayloads: number | null;
}

/** Nothing of a unit in the fleet goes, all of one that has left goes after six months. */
export const defaultRetention: RetentionPolicy = {
  monthsAfterLeaving: 6,
  yearsOfReadings: null,
  yearsOfVerdicts: null,
  yearsOfPayloads: null,
};

export const retentionFields = [
  { name: 'monthsAfterLeaving', label: 'Months after a unit has left, all of it', least: 6 },
  { name: 'yearsOfReadings', label: 'Years of readings', least: 1 },
  { name: 'yearsOfVerdicts', label: 'Years of verdicts that were replaced', least: 1 },
  { name: 'yearsOfPayloads', label: 'Years of what ledger entries say', least: 1 },
] as const satisfies readonly {
  readonly name: keyof RetentionPolicy;
  readonly label: string;
  readonly least: number;
}[];

const most = 100;

/**
 * A policy as a person keys it. No period is shorter than 49 CFR 396.3(c) asks: one year where the
 * vehicle is housed, six months after it has left. Years left empty: as long as the unit is in the
 * fleet. Source of the floors: 49 CFR 396.3(c), published text; the rest is the fleet's own choice.
 *
 * @example retentionKeyed({ monthsAfterLeaving: '3' }) is refused, and asks for 6 to 100
 */
export function retentionKeyed(
  keyed: Readonly<Record<string, string | undefined>>,
): Result<RetentionPolicy> {
  const problems: Problem[] = [];
  const policy: Record<keyof RetentionPolicy, number | null> = { ...defaultRetention };
  for (const { name, least } of retentionFields) {
    const text = keyed[name]?.trim() ?? '';
    const mayBeEmpty = name !== 'monthsAfterLeaving';
    if (text === '' && mayBeEmpty) continue;
    const figure = keyedNumber(text, name);
    if (
      figure.ok &&
      Number.isInteger(figure.value) &&
      figure.value >= least &&
      figure.value <= most
    ) {
      policy[name] = figure.value;
    } else {
      problems.push({
        field: name,
        value: text.slice(0, 40),
        message: 'It is no period that a policy can have.',
        mend: `Key a whole number from ${least} to ${most}${mayBeEmpty ? ', or leave it empty' : ''}.`,
      });
    }
  }
  if (problems.length > 0) return failure(problems);
  const { monthsAfterLeaving, ...years } = policy;
  return success({
    ...years,
    monthsAfterLeaving: monthsAfterLeaving ?? defaultRetention.monthsAfterLeaving,
  });
}

/** `retentionWords(defaultRetention)[0]` is `Months after a unit has left, all of it: 6`. */
export const retentionWords = (policy: RetentionPolicy): readonly string[] =>
  retentionFields.map(
    ({ name, label }) => `${label}: ${policy[name] ?? 'as long as it is in the fleet'}`,
  );
