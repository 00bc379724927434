import { and, eq, isNull } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import type { Db } from '../client';
import { appendToLedger } from '../ledger';
import { apiToken } from '../schema';
import { inTransaction } from '../transaction';

/** Ends a token for good. False where it was ended before, or never was. */
export async function revokeApiToken(
  db: Db,
  { actor, tokenId, now }: { actor: Actor; tokenId: string; now: Date },
): Promise<boolean> {
  requirePermission(actor, 'change people');
  return inTransaction(db, async (tx) => {
    const [ended] = await tx
      .update(apiToken)
      .set({ revokedAt: now })
      .where(and(eq(apiToken.id, tokenId), isNull(apiToken.revokedAt)))
      .returning({ label: apiToken.label });
    if (!ended) return false;
    await appendToLedger(tx, {
      kind: 'API token revoked',
      actor,
      now,
      payload: { token: tokenId, label: ended.label },
    });
    return true;
  });
}
