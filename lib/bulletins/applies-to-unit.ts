import { type CompiledRule, type Condition, compileRule } from '@/lib/bulletins/condition';
import { decide } from '@/lib/bulletins/decision-diagram';
import type { MissingFact, Possible } from '@/lib/bulletins/possible';
import { readFact } from '@/lib/bulletins/read-fact';
import { type Truth, truthOf } from '@/lib/bulletins/representatives';
import type { Rule } from '@/lib/bulletins/rule';
import type { BulletinFacts, FactName } from '@/lib/bulletins/unit-facts';
import type { DayNumber } from '@/lib/measure';

export const applicabilities = ['applies', 'does not', 'undecided'] as const;
export type Applicability = (typeof applicabilities)[number];

export interface Judgement {
  readonly answer: Applicability;
  readonly why: string;
  /** Only for undecided: each fact that may still turn the answer, and who can get it. */
  readonly missing: readonly MissingFact[];
  /** Index in `anyOf` of the range that decided; null where none alone did. */
  readonly range: number | null;
}

interface JudgedCondition {
  readonly condition: Condition;
  readonly possible: Possible;
  readonly truth: Truth;
}

const sentence = ({ condition, possible, truth }: JudgedCondition): string =>
  `${possible.told()} ${truth === 'no' ? condition.whenFalse : condition.whenTrue}`;

const joined = (sentences: readonly string[]): string => [...new Set(sentences)].join('; ');

function undecided(facts: readonly FactName[], possibleOf: (fact: FactName) => Possible) {
  const missing = new Map<string, MissingFact>();
  const told: string[] = [];
  for (const possible of facts.map(possibleOf)) {
    if (possible.is === 'known') continue;
    missing.set(possible.missing.fact, possible.missing);
    told.push(possible.told());
  }
  return {
    answer: 'undecided',
    why: `it depends on ${joined(told)}`,
    missing: [...missing.values()],
    range: null,
  } as const;
}

/** As `appliesToUnit`, for a rule compiled once and asked of many units. */
export function judgeCompiled(rule: CompiledRule, facts: BulletinFacts): Judgement {
  const known = new Map<FactName, Possible>();
  const possibleOf = (fact: FactName): Possible => {
    const possible = known.get(fact) ?? readFact(fact, facts);
    known.set(fact, possible);
    return possible;
  };
  const ranges = rule.map((conditions) =>
    conditions.map((condition): JudgedCondition => {
      const possible = possibleOf(condition.fact);
      return { condition, possible, truth: truthOf(condition, possible) };
    }),
  );
  const covering = ranges.findIndex((range) => range.every(({ truth }) => truth === 'yes'));
  if (covering >= 0) {
    const why = joined((ranges[covering] ?? []).map(sentence)) || 'the bulletin covers every unit';
    return { answer: 'applies', why, missing: [], range: covering };
  }
  const open = ranges.filter((range) => range.every(({ truth }) => truth !== 'no'));
  const { answer, facts: deciding } = decide(
    open.map((range) =>
      range.filter(({ truth }) => truth === 'unknown').map(({ condition }) => condition),
    ),
    possibleOf,
  );
  if (answer === null) return undecided(deciding, possibleOf);
  if (answer) {
    const why = `whatever is missing, one of the ranges covers it: ${joined(open.flat().map(sentence))}`;
    return { answer: 'applies', why, missing: [], range: null };
  }
  const refusals = ranges.map((range) => range.find(({ truth }) => truth === 'no'));
  const why = joined(
    refusals.map((refusal) =>
      refusal ? sentence(refusal) : 'no value that a missing fact may have meets all conditions',
    ),
  );
  return { answer: 'does not', why, missing: [], range: null };
}

/**
 * Whether a bulletin covers a unit: it applies, it does not, or it is undecided. Undecided only when
 * the facts on record truly allow both answers; then the missing facts are those that can still turn
 * the answer, none more. A month-only build date is every day of its month. Nothing is assumed.
 *
 * Method: Kleene's strong three-valued logic for each range, then, where that leaves the rule open,
 * every combination of what the open facts may be (`decide`).
 * Thin data: a unit with nothing on record is undecided, unless the rule covers every unit.
 * Example: built 2019-03, rule built 2018-11 to 2019-08: applies, range 0.
 */
export const appliesToUnit = (rule: Rule, facts: BulletinFacts, asOf: DayNumber): Judgement =>
  judgeCompiled(compileRule(rule, asOf), facts);
