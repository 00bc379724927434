import { expect, it } from 'vitest';
import { appliesToUnit } from '@/lib/bulletins/applies-to-unit';
import type { RangeRule } from '@/lib/bulletins/rule';
import { ruleWords } from '@/lib/bulletins/rule-words';
import { asOf, nothingKnown } from './arbitrary-bulletins';

const unit = {
  ...nothingKnown,
  make: 'Alder',
  fitted: [{ part: 'pump' as const, revision: 'C', dateCode: null }],
  newest: { readOn: asOf, line: 'film' as const, recovery: null, idle: null, lowest: null },
};
const notIn = (...values: string[]): RangeRule => ({
  fitted: [{ part: 'pump', fact: 'revision', is: 'not in', values }],
});

it.each([
  [{ make: ['Alder'] }, 'make is Alder', 'make Alder as asked'],
  [{ make: ['Birch'] }, 'make is Birch', 'make Alder is not Birch'],
  [{ make: ['Alder', 'Birch'] }, 'make is among Alder, Birch', 'make Alder is among Alder, Birch'],
  [notIn('A'), 'pump revision is not A', 'pump revision C is not A'],
  [notIn('C'), 'pump revision is not C', 'pump revision C is left out'],
  [notIn('A', 'C'), 'pump revision is not among A, C', 'pump revision C is among A, C'],
  [{ symptom: { line: ['film'] } }, 'line is film', 'line film on 2025-11-25 as asked'],
  [{ symptom: { line: ['wet'] } }, 'line is wet', 'line film on 2025-11-25 is not wet'],
] as [RangeRule, string, string][])('says %j plainly', (range, ofRule, ofUnit) => {
  const rule = { anyOf: [range] };
  expect(ruleWords(rule, asOf)).toEqual([ofRule]);
  expect(appliesToUnit(rule, unit, asOf).why).toBe(ofUnit);
});
