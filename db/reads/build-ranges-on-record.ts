import { sql } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import { type BuildRange, buildRanges } from '@/lib/bulletins/build-ranges';
import { compileRule } from '@/lib/bulletins/condition';
import { parseRule } from '@/lib/bulletins/parse-rule';
import { unitColumns } from '@/lib/bulletins/unit-columns';
import { buildFactNames } from '@/lib/bulletins/unit-facts';
import type { DayNumber } from '@/lib/measure';
import type { Db, Tx } from '../client';
import { sha256 } from '../ledger';
import { unit } from '../schema';
import { bulletinFacts } from './bulletin-facts';
import { unitsSeenBy } from './units-seen-by';

export interface BuildRangesOnRecord {
  /** What the indexes of a range's units stand for. */
  readonly unitIds: readonly string[];
  readonly rows: readonly BuildRange[];
}

/** By a digest of all that they are worked out from, newest last: two people's views, and one before. */
const kept = new Map<string, BuildRangesOnRecord>();
const mostKept = 3;

/**
 * The build ranges that the rules cut out of the units that the actor sees. They are worked out again
 * only when a rule, the day or what is on record of a unit's build has changed.
 */
export async function buildRangesOnRecord(
  db: Db | Tx,
  actor: Actor,
  rules: readonly unknown[],
  asOf: DayNumber,
): Promise<BuildRangesOnRecord> {
  requirePermission(actor, 'see units');
  const digest = sha256(JSON.stringify([rules, asOf, await buildFactsDigest(db, actor)]));
  const found = kept.get(digest) ?? (await workedOut(db, actor, rules, asOf));
  kept.delete(digest);
  kept.set(digest, found);
  for (const oldest of [...kept.keys()].slice(0, -mostKept)) kept.delete(oldest);
  return found;
}

async function workedOut(
  db: Db | Tx,
  actor: Actor,
  rules: readonly unknown[],
  asOf: DayNumber,
): Promise<BuildRangesOnRecord> {
  const compiled = rules.map((rule) => {
    const parsed = parseRule(rule);
    if (!parsed.ok) throw new Error('a bulletin holds a rule that cannot be read');
    return compileRule(parsed.value, asOf);
  });
  const facts = await bulletinFacts(db, { units: unitsSeenBy(actor), asked: buildFactNames });
  return {
    unitIds: facts.map((one) => one.unit),
    rows: buildRanges(compiled, unitColumns(facts)),
  };
}

/** Changes with whatever a rule may ask of the build of any unit that the actor sees. */
async function buildFactsDigest(db: Db | Tx, actor: Actor): Promise<string> {
  const { id, vin, isCheckDigitRequired, gvwrKg, make, model, modelYear, engine } = unit;
  const { builtYear, builtMonth, builtDay } = unit;
  const [row] = await db
    .select({
      digest: sql<string>`count(*) || ' ' || coalesce(sum(hashtextextended(row(
        ${id}, ${vin}, ${isCheckDigitRequired}, ${gvwrKg}, ${make}, ${model}, ${modelYear},
        ${engine}, ${builtYear}, ${builtMonth}, ${builtDay})::text, 0)), 0)`,
    })
    .from(unit)
    .where(unitsSeenBy(actor));
  return row?.digest ?? '';
}
