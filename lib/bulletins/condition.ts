import { buildDateFromIso, monthsBefore } from '@/lib/bulletins/build-date';
import type { FactValue } from '@/lib/bulletins/possible';
import type { Between, FittedCondition, RangeRule, Rule } from '@/lib/bulletins/rule';
import { type FactName, foldName, weekOfDateCode } from '@/lib/bulletins/unit-facts';
import type { DayNumber } from '@/lib/measure';

/** One test of one fact. */
export interface Condition {
  readonly fact: FactName;
  readonly holds: (value: FactValue) => boolean;
  /** Values at which the answer may turn: names listed, ends of an interval. */
  readonly turns: readonly FactValue[];
  /** Said of the fact in a rule; left out where `whenTrue` says it as well. */
  readonly asRule?: string;
  /** Said of a unit's own fact. */
  readonly whenTrue: string;
  readonly whenFalse: string;
}

/** A bulletin's ranges as conditions, with ages turned into build dates as of one day. */
export type CompiledRule = readonly (readonly Condition[])[];

function listed(fact: FactName, names: readonly string[], isIn = true): Condition {
  const folded = new Set(names.map(foldName));
  const isOne = names.length === 1;
  const verb = isOne ? 'is' : 'is among';
  const among = `${verb} ${names.join(', ')}`;
  const notAmong = `${verb.replace('is', 'is not')} ${names.join(', ')}`;
  // `make Alder is Alder` says nothing of a unit, and `make is Alder` all of a rule.
  const told = isOne ? (isIn ? 'as asked' : 'is left out') : among;
  return {
    fact,
    holds: (value) => folded.has(String(value)) === isIn,
    turns: [...folded],
    asRule: isIn ? among : notAmong,
    whenTrue: isIn ? told : notAmong,
    whenFalse: isIn ? notAmong : told,
  };
}

function interval(
  fact: FactName,
  from: number | undefined,
  to: number | undefined,
  words: string,
): Condition {
  return {
    fact,
    holds: (value) =>
      (from === undefined || Number(value) >= from) && (to === undefined || Number(value) <= to),
    turns: [from, to].filter((end) => end !== undefined),
    whenTrue: `lies ${words}`,
    whenFalse: `does not lie ${words}`,
  };
}

function strict(fact: FactName, side: 'above' | 'below', limit: number, words: string): Condition {
  return {
    fact,
    holds: (value) => (side === 'above' ? Number(value) > limit : Number(value) < limit),
    turns: [limit],
    whenTrue: `is ${words}`,
    whenFalse: `is not ${words}`,
  };
}

function wordsOf<Value>({ from, to }: Between<Value>, measure = ''): string {
  if (from === undefined) return `up to ${to}${measure}`;
  return to === undefined ? `from ${from}${measure} on` : `in ${from} to ${to}${measure}`;
}

function builtIn({ from, to }: Between<string>): Condition {
  const first = from === undefined ? undefined : buildDateFromIso(from)?.from;
  const last = to === undefined ? undefined : buildDateFromIso(to)?.to;
  return interval('build date', first, last, wordsOf({ from, to }));
}

/** At least `from` and not yet `to` + 1 whole months old, as days of building. */
function agedBetween({ from, to }: Between<number>, asOf: DayNumber): Condition {
  const first = to === undefined ? undefined : monthsBefore(asOf, to + 1) + 1;
  const last = from === undefined ? undefined : monthsBefore(asOf, from);
  return interval('build date', first, last, `${wordsOf({ from, to }, ' months')} of age`);
}

function fittedPart(condition: FittedCondition): Condition {
  if ('values' in condition) {
    return listed(`${condition.part} ${condition.fact}`, condition.values, condition.is === 'in');
  }
  const { part, is, value } = condition;
  const fact = `${part} date code week` as const;
  const week = weekOfDateCode(value) ?? Number.NaN;
  if (is === 'from') return interval(fact, week, undefined, `from ${value} on`);
  if (is === 'up to') return interval(fact, undefined, week, `up to ${value}`);
  return strict(fact, is === 'after' ? 'above' : 'below', week, `${is} ${value}`);
}

function symptomConditions(symptom: NonNullable<RangeRule['symptom']>): Condition[] {
  const { line, recoverySlowerThan, idleBelow, lowestBelow } = symptom;
  const conditions: Condition[] = [];
  if (line) {
    const seen = new Set<FactValue>(line);
    const words = line.join(' or ');
    conditions.push({
      fact: 'line',
      holds: (value) => seen.has(value),
      turns: ['dry', 'film', 'wet'],
      asRule: `is ${words}`,
      whenTrue: line.length === 1 ? 'as asked' : `is ${words}`,
      whenFalse: `is not ${words}`,
    });
  }
  if (recoverySlowerThan !== undefined) {
    const words = `over ${recoverySlowerThan} s`;
    conditions.push(strict('recovery', 'above', recoverySlowerThan, words));
  }
  if (idleBelow !== undefined) {
    conditions.push(strict('idle vacuum', 'below', idleBelow, `below ${idleBelow.toFixed(1)} kPa`));
  }
  if (lowestBelow !== undefined) {
    conditions.push(strict('lowest', 'below', lowestBelow, `below ${lowestBelow.toFixed(1)} kPa`));
  }
  return conditions;
}

function conditionsOf(range: RangeRule, asOf: DayNumber): Condition[] {
  const { modelYear, vinSequence, odometer } = range;
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
  if (modelYear) {
    conditions.push(interval('model year', modelYear.from, modelYear.to, wordsOf(modelYear)));
  }
  if (vinSequence) {
    const [from, to] = [vinSequence.from, vinSequence.to].map((end) =>
      end === undefined ? undefined : Number(end),
    );
    conditions.push(interval('VIN sequence', from, to, wordsOf(vinSequence)));
  }
  if (range.ageMonths) conditions.push(agedBetween(range.ageMonths, asOf));
  if (odometer) {
    conditions.push(interval('odometer', odometer.from, odometer.to, wordsOf(odometer, ' km')));
  }
  for (const fitted of range.fitted ?? []) conditions.push(fittedPart(fitted));
  if (range.symptom) conditions.push(...symptomConditions(range.symptom));
  return conditions;
}

/** A range that covers every unit has no condition. Expects a rule that `parseRule` accepted. */
export const compileRule = (rule: Rule, asOf: DayNumber): CompiledRule =>
  rule.anyOf.map((range) => conditionsOf(range, asOf));
