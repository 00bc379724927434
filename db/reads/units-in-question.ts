import { type SQL, sql } from 'drizzle-orm';
import type { CompiledRule, Condition } from '@/lib/bulletins/condition';
import { truthOf } from '@/lib/bulletins/representatives';
import type { FactName } from '@/lib/bulletins/unit-facts';
import type { Db, Tx } from '../client';
import { isOfReading, ruledOutByReading } from './ruled-out-by-reading';
import { isOfVin, ruledOutByVin } from './ruled-out-by-vin';
import { type Sorting, sortingBy } from './sorting-by-fact';

/**
 * A condition on `unit` that every unit meets which a rule may cover or leave undecided: undefined
 * where that is every unit. Each distinct text on record, each character that a VIN may hold, and each
 * stretch of numbers is put to the rule's own conditions, so that the database compares and judges nothing.
 */
export async function unitsInQuestion(db: Db | Tx, rule: CompiledRule): Promise<SQL | undefined> {
  const sortings = new Map<FactName, Sorted | null>();
  const conditionOf = async (condition: Condition): Promise<SQL | null> => {
    const { fact } = condition;
    const sorted = sortings.get(fact) ?? (await sort(db, sortingBy(fact)));
    sortings.set(fact, sorted);
    return sorted && notRuledOut(condition, sorted);
  };
  const ranges: SQL[] = [];
  for (const range of rule) {
    const kept: SQL[] = [];
    for (const condition of range) {
      const one = await conditionOf(condition);
      if (one) kept.push(one);
    }
    const ofVin = range.filter(isOfVin);
    if (ofVin.length > 0) kept.push(sql`not ${ruledOutByVin(ofVin)}`);
    const measured = range.filter(isOfReading);
    if (measured.length > 0) kept.push(sql`not ${ruledOutByReading(measured)}`);
    if (kept.length === 0) return undefined;
    ranges.push(sql`(${sql.join(kept, sql` and `)})`);
  }
  return sql`(${sql.join(ranges, sql` or `)})`;
}

interface Sorted extends Sorting {
  readonly keys: readonly string[];
}

async function sort(db: Db | Tx, sorting: Sorting | null): Promise<Sorted | null> {
  if (!sorting) return null;
  const rows = await db
    .selectDistinct({ key: sorting.key })
    .from(sorting.table)
    .where(sorting.where);
  return { ...sorting, keys: rows.map(({ key }) => String(key)) };
}

function notRuledOut(condition: Condition, { keys, possibleOf, whereOneOf }: Sorted): SQL {
  const isRuledOut = (key: string) =>
    possibleOf(key).every((possible) => truthOf(condition, possible) === 'no');
  return sql`not ${whereOneOf(keys.filter(isRuledOut))}`;
}
