import { type Actor, requirePermission } from '@/lib/access';
import { type BuildRange, buildRanges } from '@/lib/bulletins/build-ranges';
import type { DayNumber } from '@/lib/measure';
import type { Db, Tx } from '../client';
import { sha256 } from '../ledger';
import { unit } from '../schema';
import { buildsDigest, buildsOnRecord } from './builds-on-record';
import { unitsSeenBy } from './units-seen-by';

export interface BuildRangesOnRecord {
  /** What the indexes of a range's units stand for. */
  readonly unitIds: readonly string[];
  readonly rows: readonly BuildRange[];
}

/** With a digest of all that they are worked out from. */
let kept: { readonly digest: string; readonly ranges: BuildRangesOnRecord } | null = null;

/**
 * The build ranges that the rules cut out of the fleet, with the units that the actor sees. A range has
 * one name and one set of words for everybody, so that two people speak of the same. They are worked
 * out again only when a rule, the day or what is on record of a unit's build has changed.
 */
export async function buildRangesOnRecord(
  db: Db | Tx,
  actor: Actor,
  rules: readonly unknown[],
  asOf: DayNumber,
): Promise<BuildRangesOnRecord> {
  requirePermission(actor, 'see units');
  const builds = await buildsDigest(db);
  const digest = sha256(JSON.stringify([rules, asOf, builds]));
  const ranges = kept?.digest === digest ? kept.ranges : await workedOut(db, rules, asOf);
  kept = { digest, ranges };
  return seenBy(db, actor, ranges);
}

async function workedOut(
  db: Db | Tx,
  rules: readonly unknown[],
  asOf: DayNumber,
): Promise<BuildRangesOnRecord> {
  const { columns, compiled } = await buildsOnRecord(db);
  const conditions = rules.map((rule) => compiled(rule, asOf));
  return {
    unitIds: columns.units.map(({ unit }) => unit),
    rows: buildRanges(conditions, columns),
  };
}

/** Without the units that the actor does not see, and the ranges that have no other. */
async function seenBy(
  db: Db | Tx,
  actor: Actor,
  all: BuildRangesOnRecord,
): Promise<BuildRangesOnRecord> {
  const seen = unitsSeenBy(actor);
  if (!seen) return all;
  const ids = await db.select({ id: unit.id }).from(unit).where(seen);
  const isSeen = new Set(ids.map(({ id }) => id));
  const places = new Map<number, number>();
  const unitIds: string[] = [];
  for (const [index, id] of all.unitIds.entries()) {
    if (isSeen.has(id)) places.set(index, unitIds.push(id) - 1);
  }
  const rows = all.rows.map((row) => ({
    ...row,
    units: row.units.flatMap((index) => places.get(index) ?? []),
  }));
  return { unitIds, rows: rows.filter(({ units }) => units.length > 0) };
}
