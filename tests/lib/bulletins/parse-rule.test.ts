import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseRule } from '@/lib/bulletins/parse-rule';
import { someRule } from './arbitrary-bulletins';

const fieldsRefused = (input: unknown) => {
  const parsed = parseRule(input);
  return parsed.ok ? [] : parsed.error.map(({ field, message }) => `${field}: ${message}`);
};
const range = (conditions: unknown) => ({ anyOf: [conditions] });

describe('parsing a rule', () => {
  it('takes what 49 CFR 573.6(c)(2) asks of a population: make, model, year, inclusive dates', () => {
    const rule = range({
      make: ['Alder'],
      model: ['Harrow 2'],
      modelYear: { from: 2019, to: 2019 },
      built: { from: '2018-11', to: '2019-08' },
      vinSequence: { from: '000100', to: '004000' },
    });
    expect(parseRule(rule)).toEqual({ ok: true, value: rule });
  });

  it('reads back every rule that the code can hold, through JSON', () => {
    fc.assert(
      fc.property(someRule, (rule) => {
        const stored: unknown = JSON.parse(JSON.stringify(rule));
        expect(parseRule(stored)).toEqual({ ok: true, value: stored });
      }),
      { seed: 20251125 },
    );
  });

  it.each([
    [{}, 'anyOf'],
    [{ anyOf: [] }, 'anyOf'],
    [range({}), 'anyOf.0: Nothing is asked.'],
    [range({ make: [] }), 'anyOf.0.make'],
    [range({ make: [' '] }), 'anyOf.0.make.0'],
    [range({ makes: ['Alder'] }), 'anyOf.0'],
    [range({ built: {} }), 'anyOf.0.built: Neither end is given.'],
    [range({ built: { from: '2019-08', to: '2018-11' } }), 'anyOf.0.built: It ends before'],
    [range({ built: { from: '2019-08-02', to: '2019-08-01' } }), 'anyOf.0.built: It ends before'],
    [range({ built: { from: '2019-13' } }), 'anyOf.0.built.from'],
    [range({ built: { from: '3/19' } }), 'anyOf.0.built.from'],
    [range({ modelYear: { from: 2019.5 } }), 'anyOf.0.modelYear.from'],
    [range({ vinSequence: { from: '200', to: '0100' } }), 'anyOf.0.vinSequence: It ends before'],
    [range({ odometer: { from: Number.NaN } }), 'anyOf.0.odometer.from'],
    [range({ symptom: {} }), 'anyOf.0.symptom: No symptom is named.'],
    [range({ fitted: [{ part: 'pump', fact: 'revision', is: 'after', value: 'B' }] }), 'anyOf.0'],
    [range({ everyUnit: true, make: ['Alder'] }), 'anyOf.0: Every unit'],
    [null, 'rule'],
    ['all', 'rule'],
  ])('refuses %j', (input, field) => {
    expect(fieldsRefused(input).join()).toContain(field);
  });

  it('takes a day inside the month that ends the range', () => {
    expect(fieldsRefused(range({ built: { from: '2019-08-14', to: '2019-08' } }))).toEqual([]);
    expect(fieldsRefused(range({ built: { from: '2019-08', to: '2019-08-14' } }))).toEqual([]);
  });
});
