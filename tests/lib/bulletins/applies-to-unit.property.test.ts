import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { appliesToUnit } from '@/lib/bulletins/applies-to-unit';
import { buildDateFromIso } from '@/lib/bulletins/build-date';
import { compileRule } from '@/lib/bulletins/condition';
import { judgeFleet } from '@/lib/bulletins/judge-fleet';
import type { Between, RangeRule, Rule } from '@/lib/bulletins/rule';
import { unitColumns } from '@/lib/bulletins/unit-columns';
import type { BulletinFacts } from '@/lib/bulletins/unit-facts';
import { asOf, someFacts, someRange, someRule } from './arbitrary-bulletins';

const answerOf = (rule: Rule, facts: BulletinFacts) => appliesToUnit(rule, facts, asOf).answer;
const runs = { numRuns: 600, seed: 20251125 };

/** The record with whatever it lacks taken from another: never less is known, nothing is changed. */
const supplied = (facts: BulletinFacts, other: BulletinFacts): BulletinFacts => ({
  ...facts,
  vin: facts.vin ?? other.vin,
  make: facts.make ?? other.make,
  model: facts.model ?? other.model,
  engine: facts.engine ?? other.engine,
  built: facts.built ?? other.built,
  odometer: facts.odometer ?? other.odometer,
  newest: facts.newest ?? other.newest,
  fitted: [
    ...facts.fitted.map((fitted) => {
      const same = other.fitted.find(({ part }) => part === fitted.part);
      return {
        part: fitted.part,
        revision: fitted.revision ?? same?.revision ?? null,
        dateCode: fitted.dateCode ?? same?.dateCode ?? null,
      };
    }),
    ...other.fitted.filter(({ part }) => facts.fitted.every((fitted) => fitted.part !== part)),
  ],
});

/** The tighter of two ends on one side, as days or numbers; an open end is the widest. */
function tighter<End extends string | number>(
  ends: readonly (End | undefined)[],
  side: 'from' | 'to',
) {
  const place = (end: End) => buildDateFromIso(String(end))?.[side] ?? Number(end);
  const given = ends.filter((end) => end !== undefined);
  return given.sort((one, other) =>
    side === 'from' ? place(other) - place(one) : place(one) - place(other),
  )[0];
}

const withinBoth = <End extends string | number>(one?: Between<End>, other?: Between<End>) =>
  one && {
    from: tighter([one.from, other?.from], 'from'),
    to: tighter([one.to, other?.to], 'to'),
  };

/** The same conditions, each no wider: ends within those of another range, one name of several. */
const narrowed = (range: RangeRule, other: RangeRule): RangeRule =>
  JSON.parse(
    JSON.stringify({
      ...range,
      make: range.make?.slice(0, 1),
      engine: range.engine?.slice(0, 1),
      plant: range.plant?.slice(0, 1),
      modelYear: withinBoth(range.modelYear, other.modelYear),
      vinSequence: withinBoth(range.vinSequence, other.vinSequence),
      built: withinBoth(range.built, other.built),
      odometer: withinBoth(range.odometer, other.odometer),
      ageMonths: withinBoth(range.ageMonths, other.ageMonths),
    }),
  );

describe('whatever the rule and the record', () => {
  it('a range made narrower never adds a unit', () => {
    const several = fc.tuple(someRange, someRange, someRange);
    const full = several.map((ranges): RangeRule => Object.assign({}, ...ranges));
    fc.assert(
      fc.property(full, full, someFacts, (range, other, facts) => {
        const wide = answerOf({ anyOf: [range] }, facts);
        const narrow = answerOf({ anyOf: [narrowed(range, other)] }, facts);
        if (wide === 'does not') expect(narrow).toBe('does not');
        if (narrow === 'applies') expect(wide).toBe('applies');
      }),
      runs,
    );
  });

  it('a further condition never adds a unit', () => {
    fc.assert(
      fc.property(someRange, someRange, someFacts, (range, further, facts) => {
        const wide = answerOf({ anyOf: [range] }, facts);
        const narrow = answerOf({ anyOf: [{ ...further, ...range }] }, facts);
        if (wide === 'does not') expect(narrow).toBe('does not');
        if (narrow === 'applies') expect(wide).toBe('applies');
      }),
      runs,
    );
  });

  it('a further range never takes a unit away', () => {
    fc.assert(
      fc.property(someRule, someRange, someFacts, (rule, range, facts) => {
        const wide = answerOf({ anyOf: [...rule.anyOf, range] }, facts);
        if (answerOf(rule, facts) === 'applies') expect(wide).toBe('applies');
        if (wide === 'does not') expect(answerOf(rule, facts)).toBe('does not');
      }),
      runs,
    );
  });

  it('the order of the ranges changes no answer', () => {
    fc.assert(
      fc.property(someRule, someFacts, ({ anyOf }, facts) => {
        const turned = { anyOf: [...anyOf].reverse() };
        expect(answerOf(turned, facts)).toBe(answerOf({ anyOf }, facts));
      }),
      runs,
    );
  });

  it('a supplied fact never turns a decided answer', () => {
    // A model year may be contradicted by a VIN supplied later, so the label keeps it empty here.
    const withoutYear = someFacts.map((facts) => ({ ...facts, modelYear: null }));
    fc.assert(
      fc.property(someRule, withoutYear, withoutYear, (rule, facts, other) => {
        const before = answerOf(rule, facts);
        if (before !== 'undecided') expect(answerOf(rule, supplied(facts, other))).toBe(before);
      }),
      runs,
    );
  });

  it('a fact that is not asked for leaves the answer undecided', () => {
    fc.assert(
      fc.property(someRule, someFacts, someFacts, (rule, facts, other) => {
        const judged = appliesToUnit(rule, facts, asOf);
        if (judged.answer !== 'undecided') return;
        const asked = new Set(judged.missing.map(({ fact }) => fact));
        const engine = asked.has('engine') ? facts.engine : (facts.engine ?? other.engine);
        const make = asked.has('make') ? facts.make : (facts.make ?? other.make);
        const model = asked.has('model') ? facts.model : (facts.model ?? other.model);
        expect(answerOf(rule, { ...facts, engine, make, model })).toBe('undecided');
      }),
      runs,
    );
  });

  it('undecided asks for something, a decision for nothing', () => {
    fc.assert(
      fc.property(someRule, someFacts, (rule, facts) => {
        const { answer, missing, why } = appliesToUnit(rule, facts, asOf);
        expect(missing.length > 0).toBe(answer === 'undecided');
        expect(why).not.toBe('');
      }),
      runs,
    );
  });

  it('the fleet as a whole is judged as each unit is', () => {
    fc.assert(
      fc.property(someRule, fc.array(someFacts, { maxLength: 12 }), (rule, units) => {
        const answers = judgeFleet(compileRule(rule, asOf), unitColumns(units));
        const words = [...answers].map((answer) => ['does not', 'applies', 'undecided'][answer]);
        expect(words).toEqual(units.map((unit) => answerOf(rule, unit)));
      }),
      runs,
    );
  });
});
