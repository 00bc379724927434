import { expect, it } from 'vitest';
import { appliesToUnit } from '@/lib/bulletins/applies-to-unit';
import type { RangeRule } from '@/lib/bulletins/rule';
import { ruleWords } from '@/lib/bulletins/rule-words';
import { asOf, built, nothingKnown } from './arbitrary-bulletins';

const unit = {
  ...nothingKnown,
  make: 'Alder',
  modelYear: 2019,
  built: built('2019-03'),
  fitted: [{ part: 'pump' as const, revision: 'C', dateCode: '1908' }],
  odometer: { value: 81_204.3, readOn: asOf },
  newest: { readOn: asOf, line: 'film' as const, recovery: null, idle: null, lowest: null },
};
const notIn = (...values: string[]): RangeRule => ({
  fitted: [{ part: 'pump', fact: 'revision', is: 'not in', values }],
});

const coded = (is: 'from' | 'up to' | 'before' | 'after', value: string): RangeRule => ({
  fitted: [{ part: 'pump', fact: 'date code', is, value }],
});

it.each([
  [{ make: ['Alder'] }, 'make is Alder', 'make Alder as asked'],
  [{ make: ['Birch'] }, 'make is Birch', 'make Alder is not Birch'],
  [{ make: ['Alder', 'Birch'] }, 'make is among Alder, Birch', 'make Alder is among Alder, Birch'],
  [notIn('A'), 'pump revision is not A', 'pump revision C is not A'],
  [notIn('C'), 'pump revision is not C', 'pump revision C is left out'],
  [notIn('A', 'C'), 'pump revision is not among A, C', 'pump revision C is left out'],
  [{ symptom: { line: ['film'] } }, 'line is film', 'line film on 2025-11-25 as asked'],
  [{ symptom: { line: ['wet'] } }, 'line is wet', 'line film on 2025-11-25 is not wet'],
  [
    { built: { from: '2018-11' } },
    'build date is 2018-11 or later',
    'build date 2019-03 is 2018-11 or later',
  ],
  [
    { built: { from: '2019-04-02' } },
    'build date is 2019-04-02 or later',
    'build date 2019-03 is before 2019-04-02',
  ],
  [
    { built: { to: '2019-02' } },
    'build date is 2019-02 or earlier',
    'build date 2019-03 is after 2019-02',
  ],
  [
    { built: { from: '2018-11', to: '2019-08' } },
    'build date is within 2018-11 to 2019-08',
    'build date 2019-03 is within 2018-11 to 2019-08',
  ],
  [
    { built: { from: '2019-04', to: '2019-08-31' } },
    'build date is within 2019-04 to 2019-08-31',
    'build date 2019-03 is outside 2019-04 to 2019-08-31',
  ],
  [
    { built: { from: '2019-03', to: '2019-03' } },
    'build date is 2019-03',
    'build date 2019-03 as asked',
  ],
  [{ modelYear: { from: 2020, to: 2020 } }, 'model year is 2020', 'model year 2019 is not 2020'],
  [{ modelYear: { to: 2018 } }, 'model year is 2018 or earlier', 'model year 2019 is after 2018'],
  [
    { ageMonths: { from: 24 } },
    'age is 24 months or more',
    'build date 2019-03 makes it 24 months old or more',
  ],
  [
    { ageMonths: { from: 120 } },
    'age is 120 months or more',
    'build date 2019-03 makes it less than 120 months old',
  ],
  [
    { ageMonths: { to: 1 } },
    'age is 1 month or less',
    'build date 2019-03 makes it 2 months old or more',
  ],
  [
    { ageMonths: { from: 12, to: 90 } },
    'age is 12 to 90 months',
    'build date 2019-03 makes it 12 to 90 months old',
  ],
  [
    { ageMonths: { from: 1, to: 1 } },
    'age is 1 month',
    'build date 2019-03 does not make it 1 month old',
  ],
  [
    { odometer: { from: 80_000 } },
    'odometer is 80,000 km or more',
    'odometer 81,204 km on 2025-11-25 is 80,000 km or more',
  ],
  [
    { odometer: { to: 80_000 } },
    'odometer is 80,000 km or less',
    'odometer 81,204 km on 2025-11-25 is over 80,000 km',
  ],
  [
    coded('from', '1908'),
    'pump date code is 1908 or later',
    'pump date code 1908 is 1908 or later',
  ],
  [
    coded('up to', '1907'),
    'pump date code is 1907 or earlier',
    'pump date code 1908 is after 1907',
  ],
  [
    coded('before', '1908'),
    'pump date code is before 1908',
    'pump date code 1908 is 1908 or later',
  ],
  [coded('after', '1907'), 'pump date code is after 1907', 'pump date code 1908 is after 1907'],
] as [RangeRule, string, string][])('says %j plainly', (range, ofRule, ofUnit) => {
  const rule = { anyOf: [range] };
  expect(ruleWords(rule, asOf)).toEqual([ofRule]);
  expect(appliesToUnit(rule, unit, asOf).why).toBe(ofUnit);
});

it('names limits in the units that are asked for', () => {
  const range = { odometer: { from: 80_467.2 }, symptom: { idleBelow: 68.94757 } };
  const words = ruleWords({ anyOf: [range] }, asOf, { pressure: 'psi', distance: 'mi' });
  expect(words).toEqual(['odometer is 50,000 mi or more; idle vacuum is below 10.0 psi']);
});
