import { asc } from 'drizzle-orm';
import type { Actor } from '@/lib/access';
import { localDay } from '@/lib/calendar';
import type { Db, Tx } from '../client';
import { bulletin } from '../schema';
import { type BuildRangesOnRecord, buildRangesOnRecord } from './build-ranges-on-record';
import { unitsSeenBy } from './units-seen-by';

interface Asked {
  readonly until: number;
  readonly ranges: Promise<BuildRangesOnRecord>;
}

/** One page of a list asks several times; whether any build has changed takes a look at every unit. */
const askedForMs = 10_000;
const lastAsked = new WeakMap<object, Map<string, Asked>>();

/**
 * Units that this person sees of a build range as the effectivity matrix names it today, at most ten
 * seconds old; none under an unknown name.
 */
export async function unitsOfBuildRange(
  db: Db | Tx,
  actor: Actor,
  name: string,
): Promise<readonly string[]> {
  const bySheds = lastAsked.get(db) ?? new Map<string, Asked>();
  lastAsked.set(db, bySheds);
  const seen = unitsSeenBy(actor) ? [...actor.shedIds].sort().join('\n') : 'every shed';
  const now = performance.now();
  let asked = bySheds.get(seen);
  if (!asked || asked.until < now) {
    asked = { until: now + askedForMs, ranges: rangesToday(db, actor) };
    bySheds.set(seen, asked);
    asked.ranges.catch(() => bySheds.delete(seen));
  }
  const { rows, unitIds } = await asked.ranges;
  return rows
    .filter((row) => row.name === name)
    .flatMap(({ units }) => units.map((index) => unitIds[index] ?? ''));
}

async function rangesToday(db: Db | Tx, actor: Actor): Promise<BuildRangesOnRecord> {
  const bulletins = await db
    .select({ rule: bulletin.rule })
    .from(bulletin)
    .orderBy(asc(bulletin.number), asc(bulletin.issue));
  const rules = bulletins.map(({ rule }) => rule);
  return buildRangesOnRecord(db, actor, rules, localDay(new Date(), 'UTC'));
}
