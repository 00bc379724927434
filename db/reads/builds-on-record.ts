import { sql } from 'drizzle-orm';
import { type CompiledRule, compileRule } from '@/lib/bulletins/condition';
import { parseRule } from '@/lib/bulletins/parse-rule';
import { type UnitColumns, unitColumns } from '@/lib/bulletins/unit-columns';
import { buildFactNames } from '@/lib/bulletins/unit-facts';
import type { DayNumber } from '@/lib/measure';
import type { Db, Tx } from '../client';
import { unit } from '../schema';
import { bulletinFacts } from './bulletin-facts';

/** Builds by column, and rules compiled once, so that what was worked out of both stays. */
export interface BuildsOnRecord {
  readonly columns: UnitColumns;
  readonly compiled: (rule: unknown, asOf: DayNumber) => CompiledRule;
}

interface Kept extends BuildsOnRecord {
  /** Of each unit, in the order of the columns; changes with whatever a rule may ask of its build. */
  readonly hashes: string[];
}

/** At 50,000 units some tens of megabytes. */
let kept: Kept | null = null;
/** Where more units have changed, all are read again. */
const mostReplaced = 1_000;

const { id, vin, isCheckDigitRequired, gvwrKg, make, model, modelYear, engine } = unit;
const { builtYear, builtMonth, builtDay } = unit;
const hashOfBuild = sql`hashtextextended(row(${id}, ${vin}, ${isCheckDigitRequired}, ${gvwrKg},
  ${make}, ${model}, ${modelYear}, ${engine}, ${builtYear}, ${builtMonth}, ${builtDay})::text, 0)`;

/** Changes with whatever a rule may ask of the build of any unit. */
export async function buildsDigest(db: Db | Tx): Promise<string> {
  const [row] = await db
    .select({ digest: sql<string>`count(*) || ' ' || coalesce(sum(${hashOfBuild}), 0)` })
    .from(unit);
  return row?.digest ?? '';
}

/** What the record says of every build; of builds read before, only what has changed. */
export async function buildsOnRecord(db: Db | Tx): Promise<BuildsOnRecord> {
  const now = await hashesOnRecord(db);
  kept = (kept && (await broughtUpToDate(db, kept, now))) ?? (await readAfresh(db, now));
  return kept;
}

interface Hashed {
  readonly unitId: string;
  readonly hash: string;
}

const hashesOnRecord = (db: Db | Tx): Promise<Hashed[]> =>
  db
    .select({ unitId: unit.id, hash: sql<string>`${hashOfBuild}::text` })
    .from(unit)
    .orderBy(unit.id);

async function readAfresh(db: Db | Tx, now: readonly Hashed[]): Promise<Kept> {
  const facts = await bulletinFacts(db, { asked: buildFactNames });
  const hashOf = new Map(now.map(({ unitId, hash }) => [unitId, hash]));
  return {
    columns: unitColumns(facts),
    // A unit entered since its hash was asked for is read again next time.
    hashes: facts.map((one) => hashOf.get(one.unit) ?? ''),
    compiled: ruleCompiler(),
  };
}

/** Null where units have come or gone, or too many have changed. */
async function broughtUpToDate(
  db: Db | Tx,
  before: Kept,
  now: readonly Hashed[],
): Promise<Kept | null> {
  const { columns, hashes } = before;
  if (now.length !== columns.units.length) return null;
  if (now.some(({ unitId }, index) => unitId !== columns.units[index]?.unit)) return null;
  const changed = now.flatMap(({ hash }, index) => (hash === hashes[index] ? [] : [index]));
  if (changed.length > mostReplaced) return null;
  if (changed.length === 0) return before;
  const units = changed.map((index) => now[index]?.unitId ?? '');
  const facts = await bulletinFacts(db, { units, asked: buildFactNames });
  const factsOf = new Map(facts.map((one) => [one.unit, one]));
  for (const index of changed) {
    const { unitId = '', hash = '' } = now[index] ?? {};
    const found = factsOf.get(unitId);
    if (!found) return null;
    columns.replace(index, found);
    hashes[index] = hash;
  }
  return before;
}

/** Rules of one day by their own text. */
function ruleCompiler(): BuildsOnRecord['compiled'] {
  let day = Number.NaN;
  const byText = new Map<string, CompiledRule>();
  return (rule, asOf) => {
    if (asOf !== day) byText.clear();
    day = asOf;
    const text = JSON.stringify(rule);
    const found = byText.get(text);
    if (found) return found;
    const parsed = parseRule(rule);
    if (!parsed.ok) throw new Error('a bulletin holds a rule that cannot be read');
    const compiled = compileRule(parsed.value, asOf);
    byText.set(text, compiled);
    return compiled;
  };
}
