import { and, eq, isNull } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import { failure, type Result, success } from '@/lib/result';
import type { Db } from '../client';
import { appendToLedger } from '../ledger';
import { gauge } from '../schema';
import { inTransaction } from '../transaction';

interface RetireGauge {
  readonly actor: Actor;
  readonly gaugeId: string;
  readonly now: Date;
}

/** A gauge that is no longer read with: its readings keep it, the bay card offers it no more. */
export async function retireGauge(
  db: Db,
  { actor, gaugeId, now }: RetireGauge,
): Promise<Result<null, 'no such gauge'>> {
  requirePermission(actor, 'change sheds');
  return inTransaction(db, async (tx) => {
    const retiredOn = now.toISOString().slice(0, 10);
    const retired = await tx
      .update(gauge)
      .set({ retiredOn })
      .where(and(eq(gauge.id, gaugeId), isNull(gauge.retiredOn)))
      .returning({ id: gauge.id });
    if (retired.length === 0) return failure('no such gauge' as const);
    await appendToLedger(tx, {
      kind: 'gauge retired',
      actor,
      now,
      payload: { gaugeId, retiredOn },
    });
    return success(null);
  });
}
