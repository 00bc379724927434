import type { LineState, Part } from '@/lib/analysis/reading';
import type { Kilometres, Kilopascals, Seconds } from '@/lib/measure';

/** Both ends are in; an end left out is open. */
export interface Between<Value> {
  readonly from?: Value;
  readonly to?: Value;
}

/** `before` and `after` leave the named code out; `from` and `up to` take it in. */
export type DateCodeOrder = 'before' | 'after' | 'from' | 'up to';

/**
 * What is asked of the part now fitted. Date codes are year and week, `1931` is week 31 of 2019.
 * Revisions have no order of their own, so they can only be listed.
 */
export type FittedCondition =
  | {
      readonly part: Part;
      readonly fact: 'revision' | 'date code';
      readonly is: 'in' | 'not in';
      readonly values: readonly string[];
    }
  | {
      readonly part: Part;
      readonly fact: 'date code';
      readonly is: DateCodeOrder;
      readonly value: string;
    };

/** What the newest reading showed, as read. */
export interface SymptomCondition {
  readonly line?: readonly Exclude<LineState, 'not seen'>[];
  readonly recoverySlowerThan?: Seconds;
  readonly idleBelow?: Kilopascals;
  readonly lowestBelow?: Kilopascals;
}

/** Builds that a bulletin covers: every condition named must hold. */
export interface RangeRule {
  readonly make?: readonly string[];
  readonly model?: readonly string[];
  readonly modelYear?: Between<number>;
  readonly engine?: readonly string[];
  readonly plant?: readonly string[];
  /** Within one maker code, model year and plant; digits only. */
  readonly vinSequence?: Between<string>;
  /** `2018-11` or `2018-11-03`; a month takes in all of its days. */
  readonly built?: Between<string>;
  readonly fitted?: readonly FittedCondition[];
  readonly odometer?: Between<Kilometres>;
  /** Whole months since the build date. */
  readonly ageMonths?: Between<number>;
  readonly symptom?: SymptomCondition;
  /** Said outright, so that a range emptied by mistake does not cover the fleet. */
  readonly everyUnit?: true;
}

/** A bulletin covers a unit that any one of its ranges covers. */
export interface Rule {
  readonly anyOf: readonly RangeRule[];
}
