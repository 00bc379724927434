import { and, eq, isNull, type SQL, sql } from 'drizzle-orm';
import { parts } from '@/lib/analysis/reading';
import { buildDateFromParts } from '@/lib/bulletins/build-date';
import { modelYearsOfVin } from '@/lib/bulletins/decode-vin';
import { known, type Possible } from '@/lib/bulletins/possible';
import { readFact } from '@/lib/bulletins/read-fact';
import { type BulletinFacts, type FactName, nothingOnRecord } from '@/lib/bulletins/unit-facts';
import { isAnyOf } from '../any-of';
import { fitment, unit } from '../schema';

/** How the database sorts units by one fact: by a text, which says all that the fact may be, and no less. */
export interface Sorting {
  readonly table: typeof unit | typeof fitment;
  readonly where: SQL | undefined;
  readonly key: SQL<string | number>;
  /** Any of these; more than the unit's whole record allows, never fewer. */
  readonly possibleOf: (key: string) => readonly Possible[];
  /** A condition on `unit`, never null. */
  readonly whereOneOf: (keys: readonly string[]) => SQL;
}

function ofUnit(key: SQL<string>, possibleOf: Sorting['possibleOf']): Sorting {
  const whereOneOf = (keys: readonly string[]) => sql`(${isAnyOf(key, keys)})`;
  return { table: unit, where: undefined, key, possibleOf, whereOneOf };
}

const nameOf = (fact: 'make' | 'model' | 'engine'): Sorting =>
  ofUnit(sql`coalesce(${unit[fact]}, '')`, (key) => [
    readFact(fact, { ...nothingOnRecord, [fact]: key }),
  ]);

/** By month, counted in figures, since every unit is asked; a day that the calendar has not is no build date. */
const builtOn: Sorting = {
  table: unit,
  where: undefined,
  key: sql<number>`case when ${unit.builtDay} > 28 and ${unit.builtDay} > extract(day from
    make_date(${unit.builtYear}, ${unit.builtMonth}, 1) + interval '1 month - 1 day') then 0
    else coalesce(${unit.builtYear} * 100 + coalesce(${unit.builtMonth}, 0), 0) end`,
  possibleOf: (key) => {
    const [year, month] = [Math.floor(Number(key) / 100), Number(key) % 100];
    const built = year === 0 ? null : buildDateFromParts(year, month || null, null);
    return [readFact('build date', { ...nothingOnRecord, built })];
  },
  whereOneOf: (keys) => sql`(${builtOn.key} = any(${sql.param(keys.map(Number))}::int[]))`,
};

/** By label and the VIN's year code; without a label the VIN counts only if it passes its check. */
const modelYearOf: Sorting = ofUnit(
  sql`coalesce(${unit.modelYear} || coalesce(substr(${unit.vin}, 10, 1), '-'), '')`,
  (key) => {
    if (key === '') return [readFact('model year', nothingOnRecord)];
    const byVin = modelYearsOfVin(key.slice(4).padStart(10), null);
    return [Number(key.slice(0, 4)), ...byVin].map((year) => known(year, () => String(year)));
  },
);

function fittedOf(fact: FactName): Sorting | null {
  const part = parts.find((one) => fact.startsWith(`${one} `));
  if (!part) return null;
  const where = and(eq(fitment.part, part), isNull(fitment.removedOn));
  const key = sql<string>`coalesce(${fact.endsWith('revision') ? fitment.revision : fitment.dateCode}, '')`;
  const possibleOf = (text: string): readonly Possible[] => {
    const fitted: BulletinFacts['fitted'] = [{ part, revision: text, dateCode: text }];
    return [readFact(fact, { ...nothingOnRecord, fitted })];
  };
  const whereOneOf = (keys: readonly string[]) =>
    sql`exists (select 1 from ${fitment}
      where ${fitment.unitId} = ${unit.id} and ${where} and ${isAnyOf(key, keys)})`;
  return { table: fitment, where, key, possibleOf, whereOneOf };
}

/** Null for a fact that no text sorts by: what the VIN's check has to admit, and what readings measured. */
export function sortingBy(fact: FactName): Sorting | null {
  if (fact === 'make' || fact === 'model' || fact === 'engine') return nameOf(fact);
  if (fact === 'build date') return builtOn;
  return fact === 'model year' ? modelYearOf : fittedOf(fact);
}
