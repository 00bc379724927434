import { buildClasses } from '@/lib/bulletins/build-classes';
import {
  cutsOf,
  joinStretches,
  type Stretch,
  stretchOfUnit,
} from '@/lib/bulletins/build-stretches';
import type { CompiledRule, Condition } from '@/lib/bulletins/condition';
import { doesNot, tableOf, truthOfAll } from '@/lib/bulletins/judge-fleet';
import type { FactValue, Possible } from '@/lib/bulletins/possible';
import type { UnitColumns } from '@/lib/bulletins/unit-columns';
import type { FactName } from '@/lib/bulletins/unit-facts';
import type { DayNumber } from '@/lib/measure';

/**
 * Units that no bulletin tells apart by anything settled when they were built: one make and model,
 * one stretch of the calendar between the bulletins' own boundaries, one answer to the build
 * conditions of every bulletin.
 */
export interface BuildRange {
  /** Unique: `Harrow 2-b`, lettered within the model by date. */
  readonly name: string;
  readonly make: string | null;
  readonly model: string | null;
  /** First and last day of the stretch; null is open. */
  readonly from: DayNumber | null;
  readonly to: DayNumber | null;
  /** The build dates on record are too coarse for one stretch, or not there. */
  readonly isDateOpen: boolean;
  /** What else the bulletins for this model ask about, as it is here: `engine D4`. */
  readonly attributes: readonly string[];
  /** Indexes of the units. */
  readonly units: readonly number[];
}

/** Conditions that can matter to the make and model of a unit: ranges that name others do not. */
function conditionsFor(rules: readonly CompiledRule[], columns: UnitColumns, unit: number) {
  const isForModel = (range: readonly Condition[]) => {
    const named = range.filter(({ fact }) => fact === 'make' || fact === 'model');
    const tables = named.map((condition) => tableOf(condition, columns));
    return truthOfAll(tables, unit) !== doesNot;
  };
  return rules.flat().filter(isForModel).flat();
}

function groupBy<Item>(items: Iterable<Item>, keyOf: (item: Item) => FactValue): Item[][] {
  const groups = new Map<FactValue, Item[]>();
  for (const item of items) {
    const group = groups.get(keyOf(item));
    if (group) group.push(item);
    else groups.set(keyOf(item), [item]);
  }
  return [...groups.values()];
}

/** `a` to `z`, then `aa`. */
const letterOf = (index: number): string =>
  (index >= 26 ? letterOf(Math.floor(index / 26) - 1) : '') +
  String.fromCharCode('a'.charCodeAt(0) + (index % 26));

const told = (fact: FactName, columns: UnitColumns, units: readonly number[]): string => {
  const { codes, distinct } = columns.columnOf(fact);
  const codesHere = new Set(units.map((unit) => codes[unit] ?? 0));
  const values = [...codesHere].map((code) => distinct[code]);
  const known = values.filter((it) => it?.is === 'known').map(({ value }) => value);
  const isOpen = known.length < values.length;
  const inOrder = known.sort((one, other) => (one < other ? -1 : 1));
  const ends =
    typeof inOrder[0] === 'number' && inOrder.length > 1
      ? `${inOrder[0]} to ${inOrder.at(-1)}`
      : inOrder.join(', ');
  return `${fact} ${[ends, isOpen ? 'not known' : ''].filter(Boolean).join(' or ')}`;
};

const nameOf = (possible: Possible | undefined): string | null =>
  possible?.is === 'known' ? String(possible.value) : null;

/** The build ranges of one make and model, oldest first. */
function rangesOfModel(
  rules: readonly CompiledRule[],
  columns: UnitColumns,
  classes: Int32Array,
  units: readonly number[],
): BuildRange[] {
  const first = units[0] ?? 0;
  const conditions = conditionsFor(rules, columns, first);
  const cuts = cutsOf(conditions);
  const asked = (['model year', 'engine', 'plant', 'VIN sequence'] as const).filter((fact) =>
    conditions.some((condition) => condition.fact === fact),
  );
  const built = columns.columnOf('build date');
  const [makes, models] = [columns.columnOf('make'), columns.columnOf('model')];
  const make = nameOf(makes.distinct[makes.codes[first] ?? 0]);
  const model = nameOf(models.distinct[models.codes[first] ?? 0]);
  const stretchOfCode = built.distinct.map((possible) => stretchOfUnit(possible, cuts, 0));
  const stretches = groupBy(units, (unit) => classes[unit] ?? 0).flatMap((ofClass) => {
    const ofUnits = ofClass.map((unit) => ({
      ...(stretchOfCode[built.codes[unit] ?? 0] as Stretch),
      units: [unit],
    }));
    return joinStretches(ofUnits, cuts.length);
  });
  return stretches
    .sort((one, other) => one.low - other.low || one.high - other.high)
    .map((stretch, index) => ({
      name: `${model ?? 'model not known'}-${letterOf(index)}`,
      make,
      model,
      from: cuts[stretch.low - 1] ?? null,
      to: stretch.high < cuts.length ? (cuts[stretch.high] ?? 0) - 1 : null,
      isDateOpen: stretch.isDateOpen,
      attributes: asked.map((fact) => told(fact, columns, stretch.units)),
      units: stretch.units,
    }));
}

/**
 * The rows of the effectivity matrix. Whatever bulletin is chosen, its build conditions have one
 * answer for all units of a row, and a row never reaches over a boundary that matters to its model.
 * A fleet without units has no rows.
 */
export function buildRanges(rules: readonly CompiledRule[], columns: UnitColumns): BuildRange[] {
  const classes = buildClasses(rules, columns);
  const [makes, models] = [columns.columnOf('make'), columns.columnOf('model')];
  const byModel = groupBy(
    columns.units.keys(),
    (unit) => (makes.codes[unit] ?? 0) * models.distinct.length + (models.codes[unit] ?? 0),
  );
  return byModel
    .flatMap((units) => rangesOfModel(rules, columns, classes, units))
    .sort((one, other) => {
      const [a, b] = [one, other].map(({ make, model }) => `${make ?? '~'} ${model ?? '~'}`);
      return a === b ? 0 : (a ?? '') < (b ?? '') ? -1 : 1;
    });
}
