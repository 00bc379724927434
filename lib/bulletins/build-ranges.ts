import { attributeWords } from '@/lib/bulletins/attribute-words';
import { buildClasses } from '@/lib/bulletins/build-classes';
import {
  cutsOf,
  inDateOrder,
  joinStretches,
  stretchOfBuilt,
} from '@/lib/bulletins/build-stretches';
import type { CompiledRule } from '@/lib/bulletins/condition';
import { truthOfAll } from '@/lib/bulletins/judge-fleet';
import type { FactValue } from '@/lib/bulletins/possible';
import { doesNot, type UnitColumns } from '@/lib/bulletins/unit-columns';
import type { DayNumber } from '@/lib/measure';

/**
 * Units that no bulletin tells apart by anything settled when they were built: one make and model,
 * one stretch of the calendar between the bulletins' own boundaries, one answer to the build
 * conditions of every bulletin.
 */
export interface BuildRange {
  /** Unique: `Harrow 2-b`, lettered within the model by date, with the make where two have the model. */
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

/** The ranges that can matter to the make and model of a unit: those that name no other. */
const rangesFor = (rules: readonly CompiledRule[], columns: UnitColumns, unit: number) =>
  rules.flat().filter((range) => {
    const named = range.filter(({ fact }) => fact === 'make' || fact === 'model');
    return truthOfAll(named.map(columns.tableOf), unit) !== doesNot;
  });

function groupBy<Item>(items: Iterable<Item>, keyOf: (item: Item) => FactValue): Item[][] {
  const groups = new Map<FactValue, Item[]>();
  for (const item of items) {
    const key = keyOf(item);
    const group = groups.get(key);
    if (group) group.push(item);
    else groups.set(key, [item]);
  }
  return [...groups.values()];
}

/** `a` to `z`, then `aa`. */
const letterOf = (index: number): string =>
  (index >= 26 ? letterOf(Math.floor(index / 26) - 1) : '') +
  String.fromCharCode('a'.charCodeAt(0) + (index % 26));

/** The build ranges of one make and model, oldest first. */
function rangesOfModel(
  rules: readonly CompiledRule[],
  columns: UnitColumns,
  units: readonly number[],
  name: string,
): BuildRange[] {
  const first = units[0] ?? 0;
  const ranges = rangesFor(rules, columns, first);
  const conditions = ranges.flat();
  const cuts = cutsOf(conditions, 'build date');
  const asked = (['model year', 'engine', 'plant', 'VIN sequence'] as const)
    .filter((fact) => conditions.some((condition) => condition.fact === fact))
    .map((fact) => ({ fact, cuts: cutsOf(conditions, fact) }));
  const built = columns.columnOf('build date');
  const { make = null, model = null } = columns.units[first] ?? {};
  const classes = buildClasses(ranges, columns, units);
  const stretches = groupBy(units.keys(), (member) => classes[member] ?? 0).flatMap((members) => {
    const ofClass = members.map((member) => units[member] ?? 0);
    // Without a cut every build date lies in the one stretch that there is, and need not be read.
    if (cuts.length === 0) return { low: 0, high: 0, isDateOpen: false, units: ofClass };
    const byBuilt = groupBy(ofClass, built.codeOf).map((sameDate) =>
      stretchOfBuilt(built.possibleOf(built.codeOf(sameDate[0] ?? 0)), cuts, sameDate),
    );
    return joinStretches(byBuilt, cuts.length);
  });
  return stretches.sort(inDateOrder(cuts.length)).map((stretch, index) => ({
    name: `${name}-${letterOf(index)}`,
    make,
    model,
    from: cuts[stretch.low - 1] ?? null,
    to: stretch.high < cuts.length ? (cuts[stretch.high] ?? 0) - 1 : null,
    isDateOpen: stretch.isDateOpen,
    attributes: asked.map((one) => attributeWords(one.fact, one.cuts, columns, stretch.units)),
    units: stretch.units,
  }));
}

/** The model, and the make before it where another make has a model of that name. */
function namesOfModels(
  columns: UnitColumns,
  byModel: readonly (readonly number[])[],
): readonly string[] {
  const { codeOf } = columns.columnOf('model');
  const makes = new Map<number, number>();
  for (const [first = 0] of byModel) makes.set(codeOf(first), (makes.get(codeOf(first)) ?? 0) + 1);
  return byModel.map(([first = 0]) => {
    const { make, model } = columns.units[first] ?? {};
    const name = model?.trim() || 'model not known';
    return makes.get(codeOf(first)) === 1 ? name : `${make?.trim() || 'make not known'} ${name}`;
  });
}

/**
 * The rows of the effectivity matrix. Whatever bulletin is chosen, its build conditions have one
 * answer for all units of a row, and a row never reaches over a boundary that matters to its model.
 * A fleet without units has no rows.
 */
export function buildRanges(rules: readonly CompiledRule[], columns: UnitColumns): BuildRange[] {
  const [makes, models] = [columns.columnOf('make'), columns.columnOf('model')];
  const byModel = groupBy(columns.units.keys(), makes.codeOf).flatMap((ofMake) =>
    groupBy(ofMake, models.codeOf),
  );
  const names = namesOfModels(columns, byModel);
  return byModel
    .flatMap((units, index) => rangesOfModel(rules, columns, units, names[index] ?? ''))
    .sort((one, other) => {
      const [a, b] = [one, other].map(({ make, model }) => `${make ?? '~'} ${model ?? '~'}`);
      return a === b ? 0 : (a ?? '') < (b ?? '') ? -1 : 1;
    });
}
