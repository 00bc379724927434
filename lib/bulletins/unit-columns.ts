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

/** One fact of every unit: `distinct[codes[unit]]`. */
export interface FactColumn {
  readonly codes: Int32Array;
  readonly distinct: readonly Possible[];
}

/** The fleet by fact instead of by unit, so that a condition is tried once for each distinct value. */
export interface UnitColumns {
  readonly units: readonly BulletinFacts[];
  /** Read from the units when first asked for. */
  readonly columnOf: (fact: FactName) => FactColumn;
  /** Worked out when first asked for; conditions are told apart as objects. */
  readonly tableOf: (condition: Condition) => Tabled;
  readonly unitsNotRuledOutBy: (condition: Condition) => Iterable<number>;
}

function readColumn(fact: FactName, units: readonly BulletinFacts[]): FactColumn {
  const codes = new Int32Array(units.length);
  const codeByKey = new Map<FactValue, number>();
  const distinct: Possible[] = [];
  let index = 0;
  for (const unit of units) {
    const possible = readFact(fact, unit);
    const key = keyOfPossible(possible);
    let code = codeByKey.get(key);
    if (code === undefined) {
      code = distinct.push(possible) - 1;
      codeByKey.set(key, code);
    }
    codes[index++] = code;
  }
  return { codes, distinct };
}

function tabled(condition: Condition, { codes, distinct }: FactColumn): Tabled {
  const notAsked = 255;
  const answers = new Uint8Array(distinct.length).fill(notAsked);
  return {
    answerFor: (unit) => {
      const code = codes[unit] as number;
      const answer = answers[code] as number;
      if (answer !== notAsked) return answer;
      answers[code] = byteOf[truthOf(condition, distinct[code] as Possible)];
      return answers[code] as number;
    },
  };
}

/** The units of each distinct value. */
function unitsByCode({ codes, distinct }: FactColumn): readonly (readonly number[])[] {
  const units: number[][] = distinct.map(() => []);
  for (const [unit, code] of codes.entries()) units[code]?.push(unit);
  return units;
}

export function unitColumns(units: readonly BulletinFacts[]): UnitColumns {
  const columns = new Map<FactName, FactColumn>();
  const tables = new WeakMap<Condition, Tabled>();
  const columnOf = (fact: FactName): FactColumn => {
    const column = columns.get(fact) ?? readColumn(fact, units);
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
    const groups = byCode.get(condition.fact) ?? unitsByCode(columnOf(condition.fact));
    byCode.set(condition.fact, groups);
    const table = tableOf(condition);
    for (const group of groups) {
      const [first] = group;
      if (first !== undefined && table.answerFor(first) !== doesNot) yield* group;
    }
  }
  return { units, columnOf, tableOf, unitsNotRuledOutBy };
}
