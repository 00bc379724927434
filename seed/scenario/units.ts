import type { unit } from '@/db/schema';
import { dayFromIso, isoFromDay } from '@/lib/calendar';
import { toKilometres } from '@/lib/measure';
import type { Chance } from './chance';
import { sheds } from './places-and-people';

export type InventedUnit = typeof unit.$inferInsert & {
  readonly id: string;
  readonly shedId: string;
};

/** Invented makes on a maker code that no authority has assigned. */
const builds = [
  {
    make: 'Corvane',
    model: 'P1',
    body: 'pickup',
    engine: '3.4 inline',
    code: 'FA1B2',
    plant: 'R',
    from: 2016,
    to: 2018,
    gvwrKg: 2950,
  },
  {
    make: 'Corvane',
    model: 'P2',
    body: 'pickup',
    engine: '2.9 turbo',
    code: 'FA2B2',
    plant: 'R',
    from: 2019,
    to: 2024,
    gvwrKg: 3080,
  },
  {
    make: 'Aldmoor',
    model: 'S1',
    body: 'SUV',
    engine: '3.0 turbo',
    code: 'LK4C7',
    plant: 'T',
    from: 2016,
    to: 2020,
    gvwrKg: 2720,
  },
  {
    make: 'Aldmoor',
    model: 'S2',
    body: 'SUV',
    engine: '2.9 turbo',
    code: 'LK5C7',
    plant: 'T',
    from: 2021,
    to: 2024,
    gvwrKg: 2790,
  },
] as const;

const yearCodes = 'GHJKLMNPRST';
const yearCode = (year: number) => yearCodes[year - 2016] ?? 'G';

const values: Record<string, number> = Object.fromEntries(
  [...'ABCDEFGH']
    .map((letter, index) => [letter, index + 1] as const)
    .concat(
      [...'JKLMN'].map((letter, index) => [letter, index + 1] as const),
      [
        ['P', 7],
        ['R', 9],
      ],
      [...'STUVWXYZ'].map((letter, index) => [letter, index + 2] as const),
      [...'0123456789'].map((digit) => [digit, Number(digit)] as const),
    ),
);
const weights = [8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2];

/** Check digit of 49 CFR 565.15(c): weighted sum modulo 11, ten written as X. */
function withCheckDigit(vin: string): string {
  const sum = [...vin].reduce(
    (total, character, at) => total + (values[character] ?? 0) * (weights[at] ?? 0),
    0,
  );
  const digit = sum % 11 === 10 ? 'X' : String(sum % 11);
  return vin.slice(0, 8) + digit + vin.slice(9);
}

/** Units of the fleet, numbered as a yard numbers them: gaps where older ones have left. */
export function inventUnits(chance: Chance, count: number, trackedFrom: string): InventedUnit[] {
  const units: InventedUnit[] = [];
  let number = 0;
  for (let index = 0; index < count; index++) {
    number += 1 + Math.floor(chance.uniform() * 9);
    const build = chance.pick(builds);
    const builtYear = build.from + Math.floor(chance.uniform() * (build.to - build.from + 1));
    const builtMonth = 1 + Math.floor(chance.uniform() * 12);
    const modelYear = builtMonth >= 8 ? builtYear + 1 : builtYear;
    const serial = String(number % 1000).padStart(3, '0');
    const maker = String(Math.floor(number / 1000)).padStart(3, '0');
    const shed = sheds[index % sheds.length] ?? sheds[0];
    const builtOn = dayFromIso(`${builtYear}-${String(builtMonth).padStart(2, '0')}-01`) ?? 0;
    const arrived = isoFromDay(Math.max(dayFromIso(trackedFrom) ?? 0, builtOn + 60));
    units.push({
      id: String(number).padStart(4, '0'),
      shedId: shed.id,
      vin: withCheckDigit(`ZZ9${build.code}0${yearCode(modelYear)}${build.plant}${maker}${serial}`),
      make: build.make,
      model: build.model,
      modelYear,
      body: build.body,
      engine: build.engine,
      builtYear,
      // Some certification labels were never read: the month is then unknown.
      builtMonth: chance.happens(0.06) ? null : builtMonth,
      builtDay: null,
      gvwrKg: build.gvwrKg,
      tireSize: build.body === 'pickup' ? 'LT265/70R17' : '255/65R18',
      odometerUnit: 'mi',
      trackedFrom: arrived,
      laidUpOn: null,
      leftFleetOn: null,
    });
  }
  return units;
}

/** Distance a working unit covers in a year. */
export const yearlyDistanceKm = (chance: Chance): number =>
  toKilometres(Math.min(26_000, Math.max(5_000, chance.normal(12_500, 3_500))), 'mi');
