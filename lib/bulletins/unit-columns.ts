import type { Condition } from '@/lib/bulletins/condition';
import { type FactValue, keyOfPossible, type Possible } from '@/lib/bulletins/possible';
import { readFact } from '@/lib/bulletins/read-fact';
import { type Truth, truthOf } from '@/lib/bulletins/representatives';
import type { BulletinFacts, FactName } from '@/lib/bulletins/unit-facts';

/** Truths and answers as small numbers, for arrays of bytes. */
export const doesNot = 0;
export const applies = 1;
export const undecided = 2;

const byteOf: Record<Truth, number> = { no: doesNot, yes: applies, unknown: undecided };

/** A condition with its answer for each distinct value of its fact, worked out when first asked. */
export interface Tabled {
  readonly answerFor: (unit: number) => number;
}

/** One fact of every unit, read from a unit when first asked for. */
export interface FactColumn {
  /** The same for units that no rule can tell apart by this fact. */
  readonly codeOf: (unit: number) => number;
  readonly possibleOf: (code: number) => Possible;
  /** The unit is read again when next asked for. */
  readonly forget: (unit: number) => void;
}

/** The fleet by fact instead of by unit, so that a condition is tried once for each distinct value. */
export interface UnitColumns {
  readonly units: readonly BulletinFacts[];
  readonly columnOf: (fact: FactName) => FactColumn;
  /** Worked out when first asked for; conditions are told apart as objects. */
  readonly tableOf: (condition: Condition) => Tabled;
  readonly unitsNotRuledOutBy: (condition: Condition) => Iterable<number>;
  /** Puts other facts in the place of a unit's; what was worked out of the others stays. */
  readonly replace: (unit: number, facts: BulletinFacts) => void;
}

function factColumn(fact: FactName, units: readonly BulletinFacts[]): FactColumn {
  // One more than the code; 0 is not read yet.
  const kept = new Int32Array(units.length);
  const codeByKey = new Map<FactValue, number>();
  const distinct: Possible[] = [];
  const read = (unit: number): number => {
    const possible = readFact(fact, units[unit] as BulletinFacts);
    const key = keyOfPossible(possible);
    let code = codeByKey.get(key);
    if (code === undefined) {
      code = distinct.push(possible) - 1;
      codeByKey.set(key, code);
    }
    kept[unit] = code + 1;
    return code;
  };
  return {
    codeOf: (unit) => {
      const found = kept[unit] as number;
      return found === 0 ? read(unit) : found - 1;
    },
    possibleOf: (code) => distinct[code] as Possible,
    forget: (unit) => {
      kept[unit] = 0;
    },
  };
}

function tabled(condition: Condition, { codeOf, possibleOf }: FactColumn): Tabled {
  // One more than the answer; 0 is not asked yet. Bytes, since codes are asked in any order.
  let answers = new Uint8Array(64);
  const work = (code: number): number => {
    const answer = byteOf[truthOf(condition, possibleOf(code))];
    if (code >= answers.length) {
      const longer = new Uint8Array(2 * code);
      longer.set(answers);
      answers = longer;
    }
    answers[code] = answer + 1;
    return answer;
  };
  return {
    answerFor: (unit) => {
      const code = codeOf(unit);
      const found = answers[code];
      return found ? found - 1 : work(code);
    },
  };
}

/** The units of each distinct value. */
function unitsByCode({ codeOf }: FactColumn, count: number): readonly (readonly number[])[] {
  const groups = new Map<number, number[]>();
  for (let unit = 0; unit < count; unit++) {
    const code = codeOf(unit);
    const group = groups.get(code);
    if (group) group.push(unit);
    else groups.set(code, [unit]);
  }
  return [...groups.values()];
}

export function unitColumns(given: readonly BulletinFacts[]): UnitColumns {
  const units = [...given];
  const columns = new Map<FactName, FactColumn>();
  const tables = new WeakMap<Condition, Tabled>();
  const columnOf = (fact: FactName): FactColumn => {
    const column = columns.get(fact) ?? factColumn(fact, units);
    columns.set(fact, column);
    return column;
  };
  const tableOf = (condition: Condition): Tabled => {
    const table = tables.get(condition) ?? tabled(condition, columnOf(condition.fact));
    tables.set(condition, table);
    return table;
  };
  const byCode = new Map<FactName, readonly (readonly number[])[]>();
  function* unitsNotRuledOutBy(condition: Condition): Iterable<number> {
    const groups =
      byCode.get(condition.fact) ?? unitsByCode(columnOf(condition.fact), units.length);
    byCode.set(condition.fact, groups);
    const table = tableOf(condition);
    for (const group of groups) {
      const [first] = group;
      if (first !== undefined && table.answerFor(first) !== doesNot) yield* group;
    }
  }
  const replace = (unit: number, facts: BulletinFacts) => {
    units[unit] = facts;
    for (const column of columns.values()) column.forget(unit);
    byCode.clear();
  };
  return { units, columnOf, tableOf, unitsNotRuledOutBy, replace };
}
