import { type Actor, requirePermission } from '@/lib/access';
import { type BuildRange, buildRanges } from '@/lib/bulletins/build-ranges';
import type { DayNumber } from '@/lib/measure';
import type { Db, Tx } from '../client';
import { sha256 } from '../ledger';
import { buildsDigest, buildsOnRecord, keepNewest } from './builds-on-record';

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
  const builds = await buildsDigest(db, actor);
  const digest = sha256(JSON.stringify([rules, asOf, builds]));
  const found = kept.get(digest) ?? (await workedOut(db, actor, rules, asOf));
  keepNewest(kept, digest, found, mostKept);
  return found;
}

async function workedOut(
  db: Db | Tx,
  actor: Actor,
  rules: readonly unknown[],
  asOf: DayNumber,
): Promise<BuildRangesOnRecord> {
  const { columns, compiled } = await buildsOnRecord(db, actor);
  const conditions = rules.map((rule) => compiled(rule, asOf));
  return {
    unitIds: columns.units.map(({ unit }) => unit),
    rows: buildRanges(conditions, columns),
  };
}
