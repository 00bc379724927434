import { sql } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import type { RetentionPolicy } from '@/lib/retention/retention-policy';
import type { Db } from '../client';
import { appendToLedgerAtOnce, purgeKind } from '../ledger';
import { retention } from '../reads/retention';
import { type PurgedCounts, takeDue } from '../record/take-due';
import { purgedUnit } from '../schema';
import { lockFleet } from '../transaction';

export interface Purged {
  readonly policy: RetentionPolicy;
  readonly units: number;
  readonly counts: PurgedCounts;
  /** Null where it was only tried, or nothing was due. */
  readonly entry: number | null;
}

interface PurgeRecords {
  readonly actor: Actor;
  /** Does all of it and takes it back, so that the counts are the true ones. */
  readonly isDryRun: boolean;
  /** Units that the person has seen to be concerned: where others are by now, nothing is taken. */
  readonly seenUnits?: number;
  readonly now: Date;
}

class TakenBack extends Error {
  constructor(readonly purged: Purged) {
    super('taken back');
  }
}

const rowsAtATime = 5_000;

/**
 * Purges what the policy in force no longer keeps: one transaction, one ledger entry with its counts.
 * The chain stays whole, since it holds digests of the payloads that go.
 */
export async function purgeRecords(
  db: Db,
  { actor, isDryRun, seenUnits, now }: PurgeRecords,
): Promise<Purged> {
  requirePermission(actor, 'purge records');
  try {
    return await db.transaction(async (tx) => {
      await tx.execute(sql`set local statement_timeout = '60min'`);
      const { policy } = await retention(tx);
      await lockFleet(tx);
      // The application's own role can take nothing away; the one that owns the schema can.
      await tx.execute(sql`set local role none`);
      const byUnit = await takeDue(tx, policy, now);
      await tx.execute(sql`set local role idlemark_app`);
      const all = [...byUnit.values()];
      const sumOf = (kind: keyof PurgedCounts) => all.reduce((sum, of) => sum + of[kind], 0);
      const counts = {
        readings: sumOf('readings'),
        verdicts: sumOf('verdicts'),
        spells: sumOf('spells'),
        orders: sumOf('orders'),
        payloads: sumOf('payloads'),
      } satisfies PurgedCounts;
      const purged = { policy, units: byUnit.size, counts, entry: null };
      const isAsSeen = seenUnits === undefined || seenUnits === byUnit.size;
      if (isDryRun || !isAsSeen) throw new TakenBack(purged);
      if (byUnit.size === 0) return purged;
      const { entry } = await appendToLedgerAtOnce(tx, {
        kind: purgeKind,
        actor,
        now,
        payload: { policy: { ...policy }, units: byUnit.size, counts },
      });
      const rows = [...byUnit].map(([unitId, of]) => ({ entry, unitId, purgedAt: now, ...of }));
      for (let from = 0; from < rows.length; from += rowsAtATime) {
        await tx.insert(purgedUnit).values(rows.slice(from, from + rowsAtATime));
      }
      return { ...purged, entry };
    });
  } catch (error) {
    if (error instanceof TakenBack) return error.purged;
    throw error;
  }
}
