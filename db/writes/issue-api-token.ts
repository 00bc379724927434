import { randomBytes, randomUUID } from 'node:crypto';
import { and, eq } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import type { ApiScope } from '@/lib/api-scopes';
import { failure, type Result, success } from '@/lib/result';
import type { Db } from '../client';
import { appendToLedger, sha256 } from '../ledger';
import { apiToken, person } from '../schema';
import { inTransaction } from '../transaction';

interface IssueApiToken {
  readonly actor: Actor;
  readonly label: string;
  readonly scopes: readonly ApiScope[];
  /** The person for whom it acts: what that person may not do, it may not. */
  readonly personId: string;
  readonly expiresAt: Date;
  readonly now: Date;
}

/** Makes a token, which is told this once. */
export async function issueApiToken(
  db: Db,
  { actor, label, scopes, personId, expiresAt, now }: IssueApiToken,
): Promise<Result<string, 'no such person'>> {
  requirePermission(actor, 'change people');
  return inTransaction(db, async (tx) => {
    const [found] = await tx
      .select({ id: person.id })
      .from(person)
      .where(and(eq(person.id, personId), eq(person.isActive, true)));
    if (!found) return failure('no such person' as const);
    const token = `idm_${randomBytes(32).toString('base64url')}`;
    const id = randomUUID();
    await tx.insert(apiToken).values({
      id,
      label,
      digest: sha256(token),
      scopes: [...scopes],
      personId,
      madeBy: actor.personId,
      madeAt: now,
      expiresAt,
    });
    await appendToLedger(tx, {
      kind: 'API token issued',
      actor,
      now,
      payload: {
        token: id,
        label,
        scopes: [...scopes],
        actsFor: personId,
        expiresAt: expiresAt.toISOString(),
      },
    });
    return success(token);
  });
}
