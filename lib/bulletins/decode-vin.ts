/**
 * What a valid VIN itself says, and nothing more: the maker's own meaning of positions 4 to 8 is not
 * published with the standard, so it is not guessed.
 */
export interface DecodedVin {
  /** World manufacturer identifier, positions 1 to 3. */
  readonly makerCode: string;
  /** Position 3 is 9: a maker of few vehicles, known by positions 1 to 3 and 12 to 14 together. */
  readonly isSmallMaker: boolean;
  /** Positions 1 to 3; for a small maker followed by 12 to 14. */
  readonly makerId: string;
  /** Positions 4 to 8, whose meaning is the maker's. */
  readonly descriptor: string;
  readonly checkCharacter: string;
  /** One year, two where the cycle cannot be told, none where position 10 holds no year code. */
  readonly modelYears: readonly number[];
  /** Position 11; which plant it stands for is the maker's. */
  readonly plant: string;
  /** Positions 12 to 17; for a small maker 15 to 17. */
  readonly sequence: string;
}

const yearCodes = 'ABCDEFGHJKLMNPRSTVWXY123456789';
const cycleStarts = [1980, 2010] as const;
/** 10,000 lb: up to here position 7 tells the cycle. */
const lightVehicleKg = 4536;

/**
 * Model years that position 10 may stand for. In vehicles of up to 4,536 kg position 7 tells the
 * cycle: a digit 1980 to 2009, a letter 2010 to 2039. A heavier vehicle, or one of unknown rating,
 * keeps both.
 *
 * Source: 49 CFR 565.15(d)(1), Tables VI and VII, from memory.
 * Example: `modelYearsOfVin('ZZ9FA1B22TR000123', 3200)` is `[2026]`.
 */
export function modelYearsOfVin(vin: string, gvwrKg: number | null): number[] {
  const code = yearCodes.indexOf(vin[9] ?? '');
  if (code < 0) return [];
  const [older, newer] = cycleStarts;
  if (gvwrKg === null || gvwrKg > lightVehicleKg) return [older + code, newer + code];
  return [(/\d/.test(vin[6] ?? '') ? older : newer) + code];
}

/** Expects a VIN that `validateVin` accepted. */
export function decodeVin(vin: string, gvwrKg: number | null): DecodedVin {
  const makerCode = vin.slice(0, 3);
  const isSmallMaker = vin[2] === '9';
  return {
    makerCode,
    isSmallMaker,
    makerId: isSmallMaker ? makerCode + vin.slice(11, 14) : makerCode,
    descriptor: vin.slice(3, 8),
    checkCharacter: vin[8] ?? '',
    modelYears: modelYearsOfVin(vin, gvwrKg),
    plant: vin[10] ?? '',
    sequence: vin.slice(isSmallMaker ? 14 : 11),
  };
}
