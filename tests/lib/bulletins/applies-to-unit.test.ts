import { describe, expect, it } from 'vitest';
import { type Applicability, appliesToUnit } from '@/lib/bulletins/applies-to-unit';
import type { RangeRule, Rule } from '@/lib/bulletins/rule';
import type { BulletinFacts } from '@/lib/bulletins/unit-facts';
import { asOf, built, nothingKnown } from './arbitrary-bulletins';

const judge = (rule: Rule, facts: Partial<BulletinFacts>) =>
  appliesToUnit(rule, { ...nothingKnown, ...facts }, asOf);
const pump = (revision: string | null, dateCode: string | null = null) => ({
  fitted: [{ part: 'pump' as const, revision, dateCode }],
});

describe('a bulletin on a unit', () => {
  const sealBulletin: Rule = {
    anyOf: [
      {
        built: { from: '2018-11', to: '2019-08' },
        fitted: [{ part: 'pump', fact: 'date code', is: 'up to', value: '1931' }],
      },
    ],
  };

  it.each([
    ['2018-10-31', '1908', 'does not'],
    ['2018-11-01', '1908', 'applies'],
    ['2019-08-31', '1931', 'applies'],
    ['2019-09-01', '1931', 'does not'],
    ['2019-08-31', '1932', 'does not'],
    ['2019-08-31', null, 'undecided'],
    ['2019-09-01', null, 'does not'],
    ['2019-08', '1908', 'applies'],
  ])('built %s with pump %s: %s', (iso, code, answer) => {
    expect(judge(sealBulletin, { built: built(iso), ...pump(null, code) }).answer).toBe(answer);
  });

  it('says why it applies and which range decided', () => {
    const judged = judge(sealBulletin, { built: built('2019-03-14'), ...pump(null, '1908') });
    expect(judged).toEqual({
      answer: 'applies',
      why: 'build date 2019-03-14 is within 2018-11 to 2019-08; pump date code 1908 is 1931 or earlier',
      missing: [],
      range: 0,
    });
  });

  it('names only the fact that is missing, who can get it and how', () => {
    const judged = judge(sealBulletin, { built: built('2019-03') });
    expect(judged.missing).toEqual([
      {
        fact: 'pump date code',
        whoCanGetIt: 'technician',
        how: 'Read it from the pump that is fitted.',
      },
    ]);
  });

  it('leaves a month that a boundary cuts undecided for want of the day', () => {
    const rule: Rule = { anyOf: [{ built: { to: '2019-03-14' } }] };
    const judged = judge(rule, { built: built('2019-03') });
    expect(judged.answer).toBe('undecided');
    expect(judged.missing.map(({ fact }) => fact)).toEqual(['day of build']);
  });

  it('covers a month that two ranges share between them', () => {
    const rule: Rule = {
      anyOf: [{ built: { to: '2019-03-14' } }, { built: { from: '2019-03-15' } }],
    };
    expect(judge(rule, { built: built('2019-03') })).toMatchObject({
      answer: 'applies',
      range: null,
    });
    expect(judge(rule, {}).answer).toBe('applies');
  });

  it('keeps both model years possible where label and VIN disagree', () => {
    const facts = { vin: 'ZZ9FA1B22TR000123', gvwrKg: 3200, modelYear: 2025 };
    const years = (from: number, to: number) => ({ anyOf: [{ modelYear: { from, to } }] });
    expect(judge(years(2025, 2025), facts).answer).toBe('undecided');
    expect(judge(years(2025, 2026), facts).answer).toBe('applies');
    expect(judge(years(2018, 2024), facts).answer).toBe('does not');
    expect(judge(years(2025, 2025), facts).why).toContain('2025 by the label, 2026 by the VIN');
  });

  it('asks for the VIN once, whatever it needs of it', () => {
    const rule: Rule = { anyOf: [{ plant: ['R'], vinSequence: { from: '100', to: '200' } }] };
    expect(judge(rule, {}).missing.map(({ fact }) => fact)).toEqual(['VIN']);
    const sure = { vin: 'ZZ9FA1B22TR000123' };
    expect(judge(rule, sure).answer).toBe('applies');
    const typo = { vin: 'ZZ9FA1B27TR000123' };
    expect(judge(rule, typo).missing.map(({ how }) => how)[0]).toContain('again');
    expect(judge(rule, { ...typo, isCheckDigitRequired: false }).answer).toBe('applies');
  });

  it('judges age by whole months as of the day asked', () => {
    // Built 2019-11-25 is six years old on 2025-11-25, built a day later is not yet.
    const rule: Rule = { anyOf: [{ ageMonths: { from: 72 } }] };
    expect(judge(rule, { built: built('2019-11-25') }).answer).toBe('applies');
    expect(judge(rule, { built: built('2019-11-26') }).answer).toBe('does not');
    expect(judge(rule, { built: built('2019-11') }).answer).toBe('undecided');
    const upTo: Rule = { anyOf: [{ ageMonths: { to: 71 } }] };
    expect(judge(upTo, { built: built('2019-11-25') }).answer).toBe('does not');
    expect(judge(upTo, { built: built('2019-11-26') }).answer).toBe('applies');
  });

  it('judges symptoms by the newest reading, and asks for one where there is none', () => {
    const rule: Rule = { anyOf: [{ symptom: { line: ['film', 'wet'], recoverySlowerThan: 15 } }] };
    const newest = { readOn: asOf, line: 'film', recovery: 16, idle: null, lowest: null } as const;
    expect(judge(rule, { newest }).answer).toBe('applies');
    expect(judge(rule, { newest: { ...newest, recovery: 15 } }).answer).toBe('does not');
    expect(judge(rule, { newest: { ...newest, line: 'not seen' } }).missing).toHaveLength(1);
    expect(judge(rule, {}).missing.map(({ fact }) => fact)).toEqual(['line', 'recovery']);
  });

  it('lists a date code that is no week, but cannot put it in order', () => {
    const order: Rule = {
      anyOf: [{ fitted: [{ part: 'pump', fact: 'date code', is: 'before', value: '1931' }] }],
    };
    const list: Rule = {
      anyOf: [{ fitted: [{ part: 'pump', fact: 'date code', is: 'in', values: ['a7'] }] }],
    };
    expect(judge(order, pump(null, 'A7')).answer).toBe('undecided');
    expect(judge(list, pump(null, 'A7')).answer).toBe('applies');
  });

  it('covers every unit only where that is said', () => {
    expect(judge({ anyOf: [{ everyUnit: true }] }, {}).answer).toBe('applies');
  });
});

/** A world in full: every fact has one value. */
interface World {
  readonly make: string;
  readonly revision: string;
  readonly builtOn: string;
}
const makes = ['Alder', 'Birch', 'neither'];
const revisions = ['A', 'B', 'neither'];
const buildDays = ['2019-02-10', '2019-03-10', '2019-03-20', '2019-04-10'];
const worlds: World[] = makes.flatMap((make) =>
  revisions.flatMap((revision) => buildDays.map((builtOn) => ({ make, revision, builtOn }))),
);

const revisionIn = (is: 'in' | 'not in', value: string): RangeRule => ({
  fitted: [{ part: 'pump', fact: 'revision', is, values: [value] }],
});
/** Each condition as the rule states it and, beside it, as anybody would read it. */
const catalogue: { range: RangeRule; reads: (world: World) => boolean }[] = [
  { range: { make: ['Alder'] }, reads: ({ make }) => make === 'Alder' },
  { range: { make: ['Birch'] }, reads: ({ make }) => make === 'Birch' },
  { range: revisionIn('in', 'A'), reads: ({ revision }) => revision === 'A' },
  { range: revisionIn('not in', 'A'), reads: ({ revision }) => revision !== 'A' },
  { range: { built: { to: '2019-03-14' } }, reads: ({ builtOn }) => builtOn <= '2019-03-14' },
  { range: { built: { from: '2019-03-15' } }, reads: ({ builtOn }) => builtOn >= '2019-03-15' },
  { range: { built: { from: '2019-03' } }, reads: ({ builtOn }) => builtOn >= '2019-03-01' },
];
const ranges = catalogue.flatMap((one, index) => [
  one,
  ...catalogue.slice(index + 1).flatMap((other) => {
    const isSameKind = Object.keys(one.range)[0] === Object.keys(other.range)[0];
    const both = (world: World) => one.reads(world) && other.reads(world);
    return isSameKind ? [] : [{ range: { ...one.range, ...other.range }, reads: both }];
  }),
]);
const rules = ranges.flatMap((one, index) => [
  { rule: { anyOf: [one.range] }, reads: one.reads },
  ...ranges.slice(index + 1).map((other) => ({
    rule: { anyOf: [one.range, other.range] },
    reads: (world: World) => one.reads(world) || other.reads(world),
  })),
]);

const knowledge = [null, ...makes].flatMap((make) =>
  [null, ...revisions].flatMap((revision) =>
    [null, '2019-03', ...buildDays].map((builtText) => ({ make, revision, builtText })),
  ),
);
type Knowledge = (typeof knowledge)[number];
const allows = ({ make, revision, builtText }: Knowledge, world: World) =>
  (make === null || make === world.make) &&
  (revision === null || revision === world.revision) &&
  (builtText === null || world.builtOn.startsWith(builtText));
const factsOf = ({ make, revision, builtText }: Knowledge): Partial<BulletinFacts> => ({
  make,
  built: builtText === null ? null : built(builtText),
  ...pump(revision),
});

/** Facts that can turn the answer: two possible worlds differ in that fact alone, and in the answer. */
function turningFacts(possible: readonly World[], reads: (world: World) => boolean): Set<string> {
  const names = { make: 'make', revision: 'pump revision', builtOn: 'build date' } as const;
  const facts = new Set<string>();
  for (const one of possible) {
    for (const other of possible) {
      const differing = (['make', 'revision', 'builtOn'] as const).filter(
        (fact) => one[fact] !== other[fact],
      );
      const [only] = differing;
      if (only && differing.length === 1 && reads(one) !== reads(other)) facts.add(names[only]);
    }
  }
  return facts;
}

describe('every small world, against reading the rule in each world that the record allows', () => {
  it(`holds for ${rules.length} rules on ${knowledge.length} records`, () => {
    for (const { rule, reads } of rules) {
      for (const record of knowledge) {
        const possible = worlds.filter((world) => allows(record, world));
        const covered = possible.filter(reads).length;
        const expected: Applicability =
          covered === 0 ? 'does not' : covered === possible.length ? 'applies' : 'undecided';
        const judged = judge(rule, factsOf(record));
        const asked = judged.missing.map(({ fact }) =>
          fact === 'day of build' ? 'build date' : fact,
        );
        expect({ rule, record, answer: judged.answer }).toEqual({ rule, record, answer: expected });
        expect(new Set(asked)).toEqual(
          expected === 'undecided' ? turningFacts(possible, reads) : new Set(),
        );
      }
    }
  });

  it("follows Kleene's strong tables where the conditions are of different facts", () => {
    // S. C. Kleene, Introduction to Metamathematics (1952), section 64, from memory.
    const order: Applicability[] = ['does not', 'undecided', 'applies'];
    const make = { applies: 'Alder', 'does not': 'Birch', undecided: null } as const;
    const revision = { applies: 'A', 'does not': 'B', undecided: null } as const;
    for (const [i, first] of order.entries()) {
      for (const [j, second] of order.entries()) {
        const facts = { make: make[first], ...pump(revision[second]) };
        const both = judge({ anyOf: [{ make: ['Alder'], ...revisionIn('in', 'A') }] }, facts);
        const either = judge({ anyOf: [{ make: ['Alder'] }, revisionIn('in', 'A')] }, facts);
        expect(both.answer).toBe(order[Math.min(i, j)]);
        expect(either.answer).toBe(order[Math.max(i, j)]);
      }
    }
  });
});
