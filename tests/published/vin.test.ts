import { describe, expect, it } from 'vitest';
import { decodeVin, modelYearsOfVin } from '@/lib/bulletins/decode-vin';
import { validateVin } from '@/lib/bulletins/vin';
import {
  expectedCheckCharacter,
  isVinCharacter,
  singleCharacterFixes,
  vinWeightedSum,
} from '@/lib/bulletins/vin-check-digit';
import figures from './figures/vin_tables.json';

// Tables: 49 CFR 565.15(c), Tables III to V. Maker codes of the worked numbers are assigned, so they
// serve arithmetic only.
const base = '11111111111111111';
const withCharacter = (position: number, character: string) =>
  base.slice(0, position - 1) + character + base.slice(position);
const required = { isCheckDigitRequired: true };

describe('check digit, against the published tables', () => {
  it('counts each character in each position as the tables of letters and weights say', () => {
    for (const [character, value] of Object.entries(figures.transliteration)) {
      for (const [index, weight] of figures.weights.entries()) {
        expect(vinWeightedSum(withCharacter(index + 1, character))).toBe(89 + weight * (value - 1));
      }
    }
  });

  it('permits the characters of the table and no others', () => {
    for (let code = 0; code < 128; code++) {
      const character = String.fromCharCode(code);
      expect(isVinCharacter(character)).toBe(character in figures.transliteration);
    }
  });

  it.each(Object.entries({ ...figures.workedExamples, ...figures.inventedForDemo }))(
    'works out %s',
    (vin, { sum, check }) => {
      expect(vinWeightedSum(vin)).toBe(sum);
      expect(expectedCheckCharacter(vin)).toBe(check);
      expect(validateVin(vin, required).ok).toBe(true);
    },
  );

  it('gives each decimal remainder of Table V its check character', () => {
    for (const [decimals, check] of Object.entries(figures.decimalRemainders)) {
      const remainder = Math.round(Number(decimals) * 11);
      expect(figures.checkCharacters[remainder]).toBe(check);
      // Position 17 weighs 2: 89 + 2 (value - 1) runs through the remainders 1, 3, 5 ...
      const vin = Object.keys(figures.transliteration)
        .map((character) => withCharacter(17, character))
        .concat([...'23456789'].map((character) => withCharacter(16, character)))
        .find((candidate) => vinWeightedSum(candidate) % 11 === remainder);
      expect(expectedCheckCharacter(vin ?? '')).toBe(check);
    }
  });
});

describe('length and excluded letters (ISO 3779, 49 CFR 565, from memory)', () => {
  it('names the position of I, O and Q wherever they stand', () => {
    for (const letter of figures.excludedLetters) {
      for (let position = 1; position <= 17; position++) {
        const checked = validateVin(withCharacter(position, letter), required);
        if (checked.ok) throw new Error('accepted');
        expect(checked.error).toHaveLength(1);
        expect(checked.error[0]?.message).toContain(`${letter} in position ${position}:`);
      }
    }
  });

  it.each([
    ['1111111111111111', '1 missing'],
    ['111111111111111111', '1 too many'],
    ['', '17 missing'],
  ])('refuses the length of %j', (text, mend) => {
    const checked = validateVin(text, required);
    expect(checked.ok ? '' : checked.error[0]?.mend).toContain(mend);
  });
});

describe('a wrong check digit', () => {
  const wrong = 'ZZ9FA1B27TR000123';

  it('refuses where the digit is required and only warns elsewhere', () => {
    expect(validateVin(wrong, required).ok).toBe(false);
    const checked = validateVin(wrong, { isCheckDigitRequired: false });
    expect(checked.ok && checked.value.warnings[0]?.message).toContain('ask for 2');
    // No character of it looks like another that would do: the check digit itself is named.
    expect(checked.ok && checked.value.warnings[0]?.mend).toContain('2 for 7 in position 9;');
  });

  it('offers exactly the single-character changes that make it right', () => {
    const offered = new Set(singleCharacterFixes(wrong).map(({ vin }) => vin));
    const right = new Set<string>();
    for (let index = 0; index < 17; index++) {
      for (const character of Object.keys(figures.transliteration)) {
        const vin = wrong.slice(0, index) + character + wrong.slice(index + 1);
        if (vin !== wrong && vin[8] === expectedCheckCharacter(vin)) right.add(vin);
      }
    }
    expect(offered).toEqual(right);
    expect(offered.has('ZZ9FA1B22TR000123')).toBe(true);
  });

  it('offers the number meant for a look-alike typed in its place, among the first', () => {
    const typed = 'ZZ9FA1822TR000123';
    const first = singleCharacterFixes(typed).filter(({ looksAlike }) => looksAlike);
    expect(first.map(({ vin }) => vin)).toContain('ZZ9FA1B22TR000123');
    expect(singleCharacterFixes(typed)[0]?.looksAlike).toBe(true);
  });
});

describe('model year (49 CFR 565.15, from memory)', () => {
  const yearVin = (position7: string, code: string) => `ZZ9FA1${position7}00${code}R000123`;

  it('follows the year codes of both cycles by position 7', () => {
    for (const [index, code] of [...figures.yearCodes.letters].entries()) {
      expect(modelYearsOfVin(yearVin('B', code), 3000)).toEqual([2010 + index]);
      expect(modelYearsOfVin(yearVin('4', code), 3000)).toEqual([1980 + index]);
    }
  });

  it.each([
    [2010, 'A'],
    [2018, 'J'],
    [2023, 'P'],
    [2026, 'T'],
    [2027, 'V'],
    [2031, '1'],
    [2039, '9'],
  ])('reads %i as %s', (year, code) => {
    expect(modelYearsOfVin(yearVin('B', code), 4536)).toEqual([year]);
  });

  it('keeps both cycles above 4,536 kg and where the rating is not known', () => {
    expect(modelYearsOfVin(yearVin('B', 'J'), 4537)).toEqual([1988, 2018]);
    expect(modelYearsOfVin(yearVin('B', 'J'), null)).toEqual([1988, 2018]);
  });

  it('gives no year for the characters that never code one', () => {
    for (const code of 'UZ0') expect(modelYearsOfVin(yearVin('B', code), 3000)).toEqual([]);
  });
});

describe('decoding', () => {
  it('takes the parts of a small maker from where 49 CFR 565 puts them', () => {
    expect(decodeVin('ZZ9FA1B22TR000123', 3200)).toEqual({
      makerCode: 'ZZ9',
      isSmallMaker: true,
      makerId: 'ZZ9000',
      descriptor: 'FA1B2',
      checkCharacter: '2',
      modelYears: [2026],
      plant: 'R',
      sequence: '123',
    });
  });

  it('takes six digits of sequence for any other maker', () => {
    const decoded = decodeVin('1J9RP1A36A1644345'.replace('1J9', '1J1'), 3000);
    expect(decoded).toMatchObject({ isSmallMaker: false, makerId: '1J1', sequence: '644345' });
  });
});
