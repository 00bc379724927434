import { compileRule, type WordedIn } from '@/lib/bulletins/condition';
import type { Rule } from '@/lib/bulletins/rule';
import type { DayNumber } from '@/lib/measure';

/**
 * A rule as sentences, one a range: all that must hold of a unit that it covers, in kPa and km unless
 * told otherwise.
 *
 * Example: make Alder built from 2018-11 on reads `make is Alder; build date is 2018-11 or later`.
 */
export const ruleWords = (rule: Rule, asOf: DayNumber, units?: WordedIn): readonly string[] =>
  compileRule(rule, asOf, units).map(
    (range) => range.map(({ asRule }) => asRule).join('; ') || 'every unit',
  );
