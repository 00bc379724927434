import { eq } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import { failure, type Result, success } from '@/lib/result';
import type { GaugeDetails } from '@/lib/sheds/shed-details';
import type { Db } from '../client';
import { appendToLedger } from '../ledger';
import { gauge, shed } from '../schema';
import { inTransaction, sqlState } from '../transaction';

interface AddGauge {
  readonly actor: Actor;
  readonly details: GaugeDetails;
  readonly now: Date;
}

/** Puts a gauge of a shed on record; the bay card offers it from the next time it is synchronised. */
export async function addGauge(
  db: Db,
  { actor, details, now }: AddGauge,
): Promise<Result<{ readonly gaugeId: string }>> {
  requirePermission(actor, 'change sheds');
  const { gaugeId, ...row } = details;
  try {
    return await inTransaction(db, async (tx): Promise<Result<{ readonly gaugeId: string }>> => {
      const [found] = await tx.select({ id: shed.id }).from(shed).where(eq(shed.id, row.shedId));
      if (!found) return wrong('shedId', 'That shed is not on record.');
      const [same] = await tx.select({ id: gauge.id }).from(gauge).where(eq(gauge.id, gaugeId));
      if (same) return wrong('gaugeId', 'A gauge has this short name.');
      await tx.insert(gauge).values({ id: gaugeId, ...row });
      await appendToLedger(tx, { kind: 'gauge added', actor, now, payload: { gaugeId, ...row } });
      return success({ gaugeId });
    });
  } catch (error) {
    if (sqlState(error) === '23505') return wrong('gaugeId', 'A gauge has this short name.');
    throw error;
  }
}

const wrong = (field: string, message: string): Result<never> =>
  failure([{ field, message, mend: 'Choose another.' }]);
