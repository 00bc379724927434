import fc from 'fast-check';
import { buildDateFromIso } from '@/lib/bulletins/build-date';
import type { RangeRule, Rule } from '@/lib/bulletins/rule';
import { type BulletinFacts, nothingOnRecord } from '@/lib/bulletins/unit-facts';
import { dayFromIso } from '@/lib/calendar';

export const day = (iso: string): number => dayFromIso(iso) ?? Number.NaN;
export const asOf = day('2025-11-25');

export const nothingKnown: BulletinFacts = { ...nothingOnRecord, unit: '0001' };

export const built = (iso: string) => buildDateFromIso(iso);

// Invented makes, numbers on an unassigned maker code (check digits computed for the design).
const vins = ['ZZ9FA1B22TR000123', 'ZZ9FA1BA5TR000124', 'ZZ9FA1B27TR000123'];
const months = ['2018-10', '2018-11', '2018-12', '2019-01', '2019-02', '2019-03'];
const days = months.flatMap((month) => [`${month}-01`, `${month}-14`, `${month}-15`]);
const codes = ['1845', '1852', '1901', '1908', '1909', 'A7'];

const orNull = <Value>(value: fc.Arbitrary<Value>) => fc.option(value, { nil: null, freq: 2 });

export const someFacts: fc.Arbitrary<BulletinFacts> = fc.record({
  unit: fc.stringMatching(/^[0-9]{4}$/),
  vin: orNull(fc.constantFrom(...vins)),
  isCheckDigitRequired: fc.boolean(),
  gvwrKg: orNull(fc.constantFrom(3200, 5200)),
  make: orNull(fc.constantFrom('Alder', ' alder', 'Birch')),
  model: orNull(fc.constantFrom('Harrow 1', 'Harrow 2')),
  modelYear: orNull(fc.constantFrom(2018, 2019, 2026)),
  engine: orNull(fc.constantFrom('D4', 'D6')),
  built: orNull(fc.constantFrom(...months, ...days).map((iso) => built(iso))),
  fitted: fc.uniqueArray(
    fc.record({
      part: fc.constantFrom('pump', 'booster'),
      revision: orNull(fc.constantFrom('A', 'B', 'C')),
      dateCode: orNull(fc.constantFrom(...codes)),
    }),
    { selector: ({ part }) => part },
  ),
  odometer: orNull(
    fc.record({ value: fc.constantFrom(0, 50_000, 80_000), readOn: fc.constant(asOf) }),
  ),
  newest: orNull(
    fc.record({
      readOn: fc.constant(asOf),
      line: fc.constantFrom('dry', 'film', 'wet', 'not seen'),
      recovery: orNull(fc.constantFrom(8, 15, 20)),
      idle: orNull(fc.constantFrom(60, 85)),
      lowest: orNull(fc.constantFrom(20, 60)),
    }),
  ),
});

const between = <Value>(value: fc.Arbitrary<Value>, order: (value: Value) => number | string) =>
  fc
    .tuple(fc.option(value, { nil: undefined }), fc.option(value, { nil: undefined }))
    .filter(([from, to]) => from !== undefined || to !== undefined)
    .map(([one, other]) => {
      if (one === undefined || other === undefined) return { from: one, to: other };
      return order(one) <= order(other) ? { from: one, to: other } : { from: other, to: one };
    });

const names = (...values: string[]) => fc.subarray(values, { minLength: 1 });

const someFitted = fc.oneof(
  fc.record({
    part: fc.constant('pump' as const),
    fact: fc.constant('revision' as const),
    is: fc.constantFrom('in' as const, 'not in' as const),
    values: names('A', 'B'),
  }),
  fc.record({
    part: fc.constantFrom('pump' as const, 'booster' as const),
    fact: fc.constant('date code' as const),
    is: fc.constantFrom('before' as const, 'after' as const, 'from' as const, 'up to' as const),
    value: fc.constantFrom('1852', '1901', '1908'),
  }),
);

export const someRange: fc.Arbitrary<RangeRule> = fc
  .record(
    {
      make: names('ALDER', 'Birch'),
      model: names('Harrow 1', 'Harrow 2'),
      modelYear: between(fc.constantFrom(2018, 2019, 2026), Number),
      engine: names('D4', 'D6'),
      plant: names('R', 'S'),
      vinSequence: between(fc.constantFrom('0', '123', '124'), Number),
      built: between(fc.constantFrom(...months, ...days), (iso) => built(iso)?.from ?? 0),
      fitted: fc.array(someFitted, { minLength: 1, maxLength: 2 }),
      odometer: between(fc.constantFrom(0, 50_000, 60_000), Number),
      ageMonths: between(fc.constantFrom(80, 82, 84), Number),
      symptom: fc.constantFrom(
        { line: ['film' as const, 'wet' as const] },
        { recoverySlowerThan: 15 },
        { idleBelow: 70, lowestBelow: 50 },
      ),
    },
    { requiredKeys: [] },
  )
  .map((range) => Object.fromEntries(Object.entries(range).slice(0, 4)) as RangeRule)
  .filter((range) => Object.keys(range).length > 0);

export const someRule: fc.Arbitrary<Rule> = fc.record({
  anyOf: fc.array(someRange, { minLength: 1, maxLength: 3 }),
});
