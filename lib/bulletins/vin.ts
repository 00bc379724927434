import {
  expectedCheckCharacter,
  hasRightCheckDigit,
  isVinCharacter,
  singleCharacterFixes,
  type VinFix,
} from '@/lib/bulletins/vin-check-digit';
import { failure, type Problem, type Result, success } from '@/lib/result';

export interface ValidVin {
  readonly vin: string;
  readonly hasRightCheckDigit: boolean;
  /** Things to look at again that do not refuse the number. */
  readonly warnings: readonly Problem[];
}

/** Spaces and hyphens that people put between groups are dropped, letters made capital. */
export const normaliseVin = (text: string): string => text.replaceAll(/[\s-]/g, '').toUpperCase();

const vinShape = /^[A-HJ-NPR-Z0-9]{17}$/;

const problem = (value: string, message: string, mend: string): Problem => ({
  field: 'vin',
  value,
  message,
  mend,
});

/** The likeliest single-character fixes in words: look-alikes, and another check digit; and how many more. */
function mendCheckDigit(fixes: readonly VinFix[]): string {
  const likely = fixes.filter((fix) => fix.looksAlike).slice(0, 4);
  const named = [...new Set([...likely, ...fixes.filter(({ position }) => position === 9)])];
  const told = named.map((fix) => `${fix.to} for ${fix.from} in position ${fix.position}`);
  return `Read the plate again. One of these would make it right: ${told.join('; ')}; or one of ${
    fixes.length - named.length
  } other changes of one character.`;
}

/** Characters and length that no VIN has. */
function shapeProblems(text: string, vin: string): Problem[] {
  const problems: Problem[] = [];
  for (const [index, character] of [...vin].entries()) {
    if (isVinCharacter(character)) continue;
    const where = `position ${index + 1}`;
    problems.push(
      'IOQ'.includes(character)
        ? problem(
            text,
            `${character} in ${where}: a VIN never holds I, O or Q`,
            character === 'I' ? 'It is probably 1.' : 'It is probably 0.',
          )
        : problem(text, `"${character}" in ${where} is no letter or digit`, 'Take it out.'),
    );
  }
  const length = [...vin].length;
  if (length !== 17) {
    const difference = Math.abs(length - 17);
    problems.push(
      problem(
        text,
        `${length} characters where a VIN has 17`,
        `${difference} ${length < 17 ? 'missing' : 'too many'}: read the plate again.`,
      ),
    );
  }
  return problems;
}

/**
 * Seventeen characters, none of them I, O or Q, position named. A wrong check digit refuses the
 * number only where the check digit is required: it is a North American rule, elsewhere position 9
 * may hold anything, so there it warns.
 *
 * Source: ISO 3779; 49 CFR 565.13 and 565.15 (from memory; check digit tables as published).
 * Example: `validateVin('ZZ9FA1B22TR000123', { isCheckDigitRequired: true })` is accepted.
 */
export function validateVin(
  text: string,
  { isCheckDigitRequired }: { readonly isCheckDigitRequired: boolean },
): Result<ValidVin> {
  const vin = vinShape.test(text) ? text : normaliseVin(text);
  if (!vinShape.test(vin)) return failure(shapeProblems(text, vin));
  if (hasRightCheckDigit(vin)) return success({ vin, hasRightCheckDigit: true, warnings: [] });
  const wrong = problem(
    text,
    `check digit ${vin[8]} in position 9, the other characters ask for ${expectedCheckCharacter(vin)}`,
    mendCheckDigit(singleCharacterFixes(vin)),
  );
  return isCheckDigitRequired
    ? failure([wrong])
    : success({ vin, hasRightCheckDigit: false, warnings: [wrong] });
}
