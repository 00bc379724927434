import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { appliesToUnit } from '@/lib/bulletins/applies-to-unit';
import { buildRanges } from '@/lib/bulletins/build-ranges';
import { compileRule } from '@/lib/bulletins/condition';
import { judgeFleet } from '@/lib/bulletins/judge-fleet';
import { readFact } from '@/lib/bulletins/read-fact';
import { truthOf } from '@/lib/bulletins/representatives';
import type { Rule } from '@/lib/bulletins/rule';
import { unitColumns } from '@/lib/bulletins/unit-columns';
import { type BulletinFacts, isBuildFact } from '@/lib/bulletins/unit-facts';
import { isoFromDay } from '@/lib/calendar';
import { asOf, built, nothingKnown, someFacts, someRule } from './arbitrary-bulletins';

const unit = (id: string, iso: string | null, changes: Partial<BulletinFacts> = {}) => ({
  ...nothingKnown,
  unit: id,
  make: 'Alder',
  model: 'Harrow 2',
  built: iso === null ? null : built(iso),
  ...changes,
});
const pump = (dateCode: string) => ({
  fitted: [{ part: 'pump' as const, revision: null, dateCode }],
});
const units = [
  unit('0401', '2018-10-31'),
  unit('0417', '2019-03-14', pump('1908')),
  unit('0420', '2019-03', pump('1909')),
  unit('0511', '2019-08-31', pump('1935')),
  unit('0512', '2019-08-30'),
  unit('0600', '2019-09'),
  unit('0700', null),
  unit('0800', '2019-03', { model: 'Selby', engine: 'D4' }),
  unit('0801', '2019-03', { model: 'Selby', engine: 'D6' }),
];
const seal: Rule = {
  anyOf: [
    {
      model: ['Harrow 2'],
      built: { from: '2018-11', to: '2019-08' },
      fitted: [{ part: 'pump', fact: 'date code', is: 'up to', value: '1931' }],
    },
  ],
};
const rangesOf = (fleet: readonly BulletinFacts[], rules: readonly Rule[]) =>
  buildRanges(
    rules.map((rule) => compileRule(rule, asOf)),
    unitColumns(fleet),
  );
const rules: readonly Rule[] = [seal, { anyOf: [{ model: ['Selby'], engine: ['D4'] }] }];
const span = (from: number | null, to: number | null) =>
  `${from === null ? '' : isoFromDay(from)}..${to === null ? '' : isoFromDay(to)}`;

describe('build ranges', () => {
  it('cuts each model at its own boundaries, and keeps undated units apart', () => {
    const rows = rangesOf(units, rules).map(
      ({ name, from, to, isDateOpen, attributes, units: ofRow }) => [
        name,
        span(from, to),
        isDateOpen,
        attributes.join(),
        ofRow.map((index) => units[index]?.unit).join(' '),
      ],
    );
    expect(rows).toEqual([
      ['Harrow 2-a', '..2018-10-31', false, '', '0401'],
      ['Harrow 2-b', '2018-11-01..2019-08-31', false, '', '0417 0420 0511 0512'],
      ['Harrow 2-c', '2019-09-01..', false, '', '0600'],
      ['Harrow 2-d', '..', true, '', '0700'],
      ['Selby-a', '..', false, 'engine D4', '0800'],
      ['Selby-b', '..', false, 'engine D6', '0801'],
    ]);
  });

  it('tells what the bulletins ask about as written, and numbers apart where another range is between', () => {
    const fleet = [2016, 2017, 2019, 2021, null].map((modelYear) =>
      unit(`${modelYear}`, null, { modelYear, engine: ' 3.0 turbo' }),
    );
    const rule: Rule = { anyOf: [{ modelYear: { from: 2018, to: 2020 }, engine: ['3.0 TURBO'] }] };
    expect(rangesOf(fleet, [rule]).map(({ attributes }) => attributes)).toEqual([
      ['model year 2016 to 2017 or 2021', 'engine 3.0 turbo'],
      ['model year 2019', 'engine 3.0 turbo'],
      ['model year not known', 'engine 3.0 turbo'],
    ]);
  });

  it('tells models of one name apart by their makes', () => {
    const fleet = [
      unit('1', null),
      unit('2', null, { make: 'Birch', model: ' HARROW 2' }),
      unit('3', null, { make: null }),
      unit('4', null, { make: 'Birch', model: 'Selby' }),
      unit('5', null, { model: null }),
    ];
    expect(rangesOf(fleet, []).map(({ name }) => name)).toEqual([
      ...['Alder Harrow 2-a', 'model not known-a', 'Birch HARROW 2-a', 'Selby-a'],
      'make not known Harrow 2-a',
    ]);
  });

  it('has no rows for a fleet without units', () => {
    expect(rangesOf([], rules)).toEqual([]);
  });
});

describe('any fleet under any bulletins', () => {
  const anyFleet = fc.array(someFacts, { maxLength: 25 });
  const anyBulletins = fc.array(someRule, { maxLength: 5 });
  const runs = { numRuns: 150, seed: 20251125 };

  it('puts every unit in one row, within the dates of the row', () => {
    fc.assert(
      fc.property(anyFleet, anyBulletins, (fleet, rules) => {
        const found = rangesOf(fleet, rules);
        const placed = found.flatMap((row) => row.units);
        expect([...placed].sort((a, b) => a - b)).toEqual([...fleet.keys()]);
        expect(new Set(found.map(({ make, name }) => `${make} ${name}`)).size).toBe(found.length);
        for (const { from, to, units: ofRow } of found) {
          for (const index of ofRow) {
            const on = fleet[index]?.built;
            if (from !== null) expect(on?.from).toBeGreaterThanOrEqual(from);
            if (to !== null) expect(on?.to).toBeLessThanOrEqual(to);
          }
        }
      }),
      runs,
    );
  });

  it('gives all units of a row one answer to the build conditions of every range', () => {
    fc.assert(
      fc.property(anyFleet, anyBulletins, (fleet, rules) => {
        const rows = rangesOf(fleet, rules);
        const answersOf = (facts: BulletinFacts) =>
          rules.flatMap((rule) =>
            compileRule(rule, asOf).map((range) => {
              const truths = range
                .filter(({ fact }) => isBuildFact(fact))
                .map((condition) => truthOf(condition, readFact(condition.fact, facts)));
              return truths.includes('no') ? 'no' : truths.includes('unknown') ? 'unknown' : 'yes';
            }),
          );
        for (const row of rows) {
          const answers = row.units.map((index) => answersOf(fleet[index] as BulletinFacts));
          for (const answer of answers) expect(answer).toEqual(answers[0]);
        }
      }),
      runs,
    );
  });

  it('answers as judging unit by unit does', () => {
    fc.assert(
      fc.property(anyFleet, anyBulletins, (fleet, rules) => {
        const columns = unitColumns(fleet);
        for (const rule of rules) {
          const answers = [...judgeFleet(compileRule(rule, asOf), columns)];
          const words = answers.map((answer) => ['does not', 'applies', 'undecided'][answer]);
          expect(words).toEqual(fleet.map((facts) => appliesToUnit(rule, facts, asOf).answer));
        }
      }),
      runs,
    );
  });

  it('cuts a fleet whose units were replaced as it cuts them read afresh', () => {
    fc.assert(
      fc.property(anyFleet, anyFleet, anyBulletins, (before, after, rules) => {
        const fleet = before.map((facts, index) => after[index] ?? facts);
        const compiled = rules.map((rule) => compileRule(rule, asOf));
        const columns = unitColumns(before);
        buildRanges(compiled, columns);
        for (const rule of compiled) judgeFleet(rule, columns);
        for (const [index, facts] of fleet.entries()) columns.replace(index, facts);
        expect(buildRanges(compiled, columns)).toEqual(rangesOf(fleet, rules));
        for (const rule of compiled) {
          expect(judgeFleet(rule, columns)).toEqual(judgeFleet(rule, unitColumns(fleet)));
        }
      }),
      runs,
    );
  });
});
