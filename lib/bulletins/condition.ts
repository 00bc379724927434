import { buildDateFromIso, monthsBefore } from '@/lib/bulletins/build-date';
import { ageWords, type ConditionWords, intervalWords } from '@/lib/bulletins/interval-words';
import type { FactValue } from '@/lib/bulletins/possible';
import type {
  Between,
  FittedCondition,
  RangeRule,
  Rule,
  SymptomCondition,
} from '@/lib/bulletins/rule';
import { type FactName, foldName, weekOfDateCode } from '@/lib/bulletins/unit-facts';
import {
  type DayNumber,
  type DistanceUnit,
  formatDistance,
  formatPressure,
  type Kilometres,
  type PressureUnit,
} from '@/lib/measure';

/** One test of one fact. */
export interface Condition extends ConditionWords {
  readonly fact: FactName;
  readonly holds: (value: FactValue) => boolean;
  /** Values at which the answer may turn: names listed, ends of an interval. */
  readonly turns: readonly FactValue[];
}

/** Units in which conditions name their limits. */
export interface WordedIn {
  readonly pressure: PressureUnit;
  readonly distance: DistanceUnit;
}

/** A bulletin's ranges as conditions, with ages turned into build dates as of one day. */
export type CompiledRule = readonly (readonly Condition[])[];

function listed(fact: FactName, names: readonly string[], isIn = true): Condition {
  const folded = new Set(names.map(foldName));
  const isOne = names.length === 1;
  const among = isOne ? names.join() : `among ${names.join(', ')}`;
  return {
    fact,
    holds: (value) => folded.has(String(value)) === isIn,
    turns: [...folded],
    asRule: `${fact} ${isIn ? 'is' : 'is not'} ${among}`,
    // `make Alder is Alder` says nothing of a unit.
    whenTrue: isIn ? (isOne ? 'as asked' : `is ${among}`) : `is not ${among}`,
    whenFalse: isIn ? `is not ${among}` : 'is left out',
  };
}

const interval = (
  fact: FactName,
  from: number | undefined,
  to: number | undefined,
  words: ConditionWords,
): Condition => ({
  fact,
  holds: (value) =>
    (from === undefined || Number(value) >= from) && (to === undefined || Number(value) <= to),
  turns: [from, to].filter((end) => end !== undefined),
  ...words,
});

function strict(fact: FactName, side: 'above' | 'below', limit: number, words: string): Condition {
  return {
    fact,
    holds: (value) => (side === 'above' ? Number(value) > limit : Number(value) < limit),
    turns: [limit],
    asRule: `${fact} is ${words}`,
    whenTrue: `is ${words}`,
    whenFalse: `is not ${words}`,
  };
}

/** Both ends, where they are given, put otherwise. */
const bothEnds = <From, To>({ from, to }: Between<From>, put: (end: From) => To) => ({
  from: from === undefined ? undefined : put(from),
  to: to === undefined ? undefined : put(to),
});

/** Whole numbers in their order: years, the ends of serial numbers. */
function numbered(fact: 'model year' | 'VIN sequence', ends: Between<number | string>): Condition {
  const { from, to } = bothEnds(ends, Number);
  return interval(fact, from, to, intervalWords(fact, bothEnds(ends, String), 'order'));
}

function driven(ends: Between<Kilometres>, unit: DistanceUnit): Condition {
  const told = bothEnds(ends, (distance) => formatDistance(distance, unit));
  return interval('odometer', ends.from, ends.to, intervalWords('odometer', told, 'amount'));
}

function builtIn({ from, to }: Between<string>): Condition {
  const first = from === undefined ? undefined : buildDateFromIso(from)?.from;
  const last = to === undefined ? undefined : buildDateFromIso(to)?.to;
  return interval('build date', first, last, intervalWords('build date', { from, to }, 'order'));
}

/** At least `from` and not yet `to` + 1 whole months old, as days of building. */
function agedBetween({ from, to }: Between<number>, asOf: DayNumber): Condition {
  const first = to === undefined ? undefined : monthsBefore(asOf, to + 1) + 1;
  const last = from === undefined ? undefined : monthsBefore(asOf, from);
  return interval('build date', first, last, ageWords({ from, to }));
}

function fittedPart(condition: FittedCondition): Condition {
  if ('values' in condition) {
    return listed(`${condition.part} ${condition.fact}`, condition.values, condition.is === 'in');
  }
  const { part, is, value } = condition;
  const fact = `${part} date code week` as const;
  const code = `${part} date code`;
  const week = weekOfDateCode(value) ?? Number.NaN;
  const from = intervalWords(code, { from: value }, 'order');
  const upTo = intervalWords(code, { to: value }, 'order');
  switch (is) {
    case 'from':
      return interval(fact, week, undefined, from);
    case 'up to':
      return interval(fact, undefined, week, upTo);
    case 'before':
      return interval(fact, undefined, week - 1, opposite(code, from));
    case 'after':
      return interval(fact, week + 1, undefined, opposite(code, upTo));
  }
}

const opposite = (fact: string, { whenTrue, whenFalse }: ConditionWords): ConditionWords => ({
  asRule: `${fact} ${whenFalse}`,
  whenTrue: whenFalse,
  whenFalse: whenTrue,
});

function symptomConditions(symptom: SymptomCondition, unit: PressureUnit): Condition[] {
  const { line, recoverySlowerThan, idleBelow, lowestBelow } = symptom;
  const conditions: Condition[] = [];
  if (line) {
    const seen = new Set<FactValue>(line);
    const words = line.join(' or ');
    conditions.push({
      fact: 'line',
      holds: (value) => seen.has(value),
      turns: ['dry', 'film', 'wet'],
      asRule: `line is ${words}`,
      whenTrue: line.length === 1 ? 'as asked' : `is ${words}`,
      whenFalse: `is not ${words}`,
    });
  }
  if (recoverySlowerThan !== undefined) {
    const words = `over ${recoverySlowerThan} s`;
    conditions.push(strict('recovery', 'above', recoverySlowerThan, words));
  }
  if (idleBelow !== undefined) {
    const words = `below ${formatPressure(idleBelow, unit)}`;
    conditions.push(strict('idle vacuum', 'below', idleBelow, words));
  }
  if (lowestBelow !== undefined) {
    const words = `below ${formatPressure(lowestBelow, unit)}`;
    conditions.push(strict('lowest', 'below', lowestBelow, words));
  }
  return conditions;
}

function conditionsOf(range: RangeRule, asOf: DayNumber, units: WordedIn): Condition[] {
  const conditions: Condition[] = [];
  const addListed = (fact: 'make' | 'model' | 'engine' | 'plant') => {
    const names = range[fact];
    if (names) conditions.push(listed(fact, names));
  };
  // What rules most units out comes first.
  addListed('make');
  addListed('model');
  if (range.built) conditions.push(builtIn(range.built));
  addListed('engine');
  addListed('plant');
  if (range.modelYear) conditions.push(numbered('model year', range.modelYear));
  if (range.vinSequence) conditions.push(numbered('VIN sequence', range.vinSequence));
  if (range.ageMonths) conditions.push(agedBetween(range.ageMonths, asOf));
  if (range.odometer) conditions.push(driven(range.odometer, units.distance));
  for (const fitted of range.fitted ?? []) conditions.push(fittedPart(fitted));
  if (range.symptom) conditions.push(...symptomConditions(range.symptom, units.pressure));
  return conditions;
}

/** Units of the words; what is on record of a unit is told in these. */
const onRecord: WordedIn = { pressure: 'kPa', distance: 'km' };

/** A range that covers every unit has no condition. Expects a rule that `parseRule` accepted. */
export const compileRule = (rule: Rule, asOf: DayNumber, units = onRecord): CompiledRule =>
  rule.anyOf.map((range) => conditionsOf(range, asOf, units));
