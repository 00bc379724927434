import { type FactValue, keyOfPossible, type Possible } from '@/lib/bulletins/possible';
import { readFact } from '@/lib/bulletins/read-fact';
import type { BulletinFacts, FactName } from '@/lib/bulletins/unit-facts';

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
}

function readColumn(fact: FactName, units: readonly BulletinFacts[]): FactColumn {
  const codes = new Int32Array(units.length);
  const codeByKey = new Map<FactValue, number>();
  const distinct: Possible[] = [];
  for (const [index, unit] of units.entries()) {
    const possible = readFact(fact, unit);
    const key = keyOfPossible(possible);
    let code = codeByKey.get(key);
    if (code === undefined) {
      code = distinct.push(possible) - 1;
      codeByKey.set(key, code);
    }
    codes[index] = code;
  }
  return { codes, distinct };
}

export function unitColumns(units: readonly BulletinFacts[]): UnitColumns {
  const columns = new Map<FactName, FactColumn>();
  return {
    units,
    columnOf: (fact) => {
      const column = columns.get(fact) ?? readColumn(fact, units);
      columns.set(fact, column);
      return column;
    },
  };
}
