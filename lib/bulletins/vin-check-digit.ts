/** What each character counts for. Source: 49 CFR 565.15(c), Table III. I, O and Q have no value. */
export const characterValues: Readonly<Record<string, number>> = {
  ...Object.fromEntries([...'0123456789'].map((digit) => [digit, Number(digit)])),
  ...Object.fromEntries([...'ABCDEFGH'].map((letter, index) => [letter, index + 1])),
  ...Object.fromEntries([...'JKLMN'].map((letter, index) => [letter, index + 1])),
  ...{ P: 7, R: 9 },
  ...Object.fromEntries([...'STUVWXYZ'].map((letter, index) => [letter, index + 2])),
};

/** Weight of each position in the check. Source: 49 CFR 565.15(c), Table IV. */
export const checkWeights: readonly number[] = [8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2];
export const checkCharacters = '0123456789X';
const checkPosition = 9;

export const isVinCharacter = (character: string): boolean =>
  characterValues[character] !== undefined;

/**
 * Weighted sum of the seventeen characters; the check position weighs nothing.
 * `vinWeightedSum('11111111111111111')` is 89.
 *
 * Source: 49 CFR 565.15(c). Expects seventeen permitted characters.
 */
export function vinWeightedSum(vin: string): number {
  let sum = 0;
  for (let index = 0; index < checkWeights.length; index++) {
    sum += (checkWeights[index] ?? 0) * (characterValues[vin[index] ?? ''] ?? 0);
  }
  return sum;
}

/** The character that position 9 should hold: the sum's remainder by 11, X for ten. */
export const expectedCheckCharacter = (vin: string): string =>
  checkCharacters[vinWeightedSum(vin) % 11] ?? '';

export const hasRightCheckDigit = (vin: string): boolean =>
  vin[checkPosition - 1] === expectedCheckCharacter(vin);

export interface VinFix {
  /** Counted from 1, as people count along a plate. */
  readonly position: number;
  readonly from: string;
  readonly to: string;
  readonly vin: string;
  /** The two characters are easily taken for each other on a plate. */
  readonly looksAlike: boolean;
}

// Common practice, no published source: shapes that people confuse on a stamped plate.
const lookAlikes = ['0D', '1L', '1T', '17', '2Z', '38', '5S', '6G', '8B', 'CG', 'EF', 'MN', 'UV'];

const looksAlike = (one: string, other: string): boolean =>
  lookAlikes.some((pair) => pair.includes(one) && pair.includes(other));

/**
 * Every change of one character that makes the check digit right, the look-alikes first. They are
 * suggestions to hold against the plate: the rule cannot tell which of them is the mistake.
 * None when the check digit is right already.
 */
export function singleCharacterFixes(vin: string): VinFix[] {
  if (hasRightCheckDigit(vin)) return [];
  const fixes: VinFix[] = [];
  for (const [index, from] of [...vin].entries()) {
    const isCheck = index === checkPosition - 1;
    for (const to of isCheck ? checkCharacters : Object.keys(characterValues)) {
      const changed = vin.slice(0, index) + to + vin.slice(index + 1);
      if (to === from || !hasRightCheckDigit(changed)) continue;
      fixes.push({
        position: index + 1,
        from,
        to,
        vin: changed,
        looksAlike: looksAlike(from, to),
      });
    }
  }
  return fixes.sort(
    (one, other) =>
      Number(other.looksAlike) - Number(one.looksAlike) || one.position - other.position,
  );
}
