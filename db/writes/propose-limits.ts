import { desc, eq } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import type { Limits } from '@/lib/analysis/limits';
import { failure, type Result, success } from '@/lib/result';
import type { Db } from '../client';
import { appendToLedger } from '../ledger';
import { limitSet } from '../schema';
import { inTransaction } from '../transaction';

interface ProposeLimits {
  readonly actor: Actor;
  readonly values: Omit<Limits, 'version'>;
  /** ISO 8601 calendar date. */
  readonly effectiveFrom: string;
  readonly source: string;
  readonly reason: string;
  readonly now: Date;
}

/** Puts a new set of limits up for another person to decide. One proposal at a time. */
export async function proposeLimits(
  db: Db,
  { actor, values, effectiveFrom, source, reason, now }: ProposeLimits,
): Promise<Result<{ readonly version: number }, 'one is proposed already'>> {
  requirePermission(actor, 'propose limits');
  return inTransaction(db, async (tx) => {
    const [open] = await tx
      .select({ version: limitSet.version })
      .from(limitSet)
      .where(eq(limitSet.state, 'proposed'));
    if (open) return failure('one is proposed already' as const);
    const [last] = await tx
      .select({ version: limitSet.version })
      .from(limitSet)
      .orderBy(desc(limitSet.version))
      .limit(1);
    const version = Math.max(last?.version ?? 0, 0) + 1;
    await tx.insert(limitSet).values({
      version,
      values,
      effectiveFrom,
      source,
      reason,
      state: 'proposed',
      proposedBy: actor.personId,
      proposedAt: now,
    });
    await appendToLedger(tx, {
      kind: 'limits proposed',
      actor,
      now,
      payload: { version, values: { ...values }, effectiveFrom, source, reason },
    });
    return success({ version });
  });
}
