import { and, desc, eq, gt, isNull } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import type { ApiScope } from '@/lib/api-scopes';
import type { Db } from '../client';
import { sha256 } from '../ledger';
import { apiToken, person } from '../schema';
import { actorOfPerson, type SignedInPerson } from './actor-of-person';

/** Every token there was, newest first, without anything that it could be made of again. */
export async function apiTokens(db: Db, actor: Actor) {
  requirePermission(actor, 'change people');
  return db
    .select({
      id: apiToken.id,
      label: apiToken.label,
      scopes: apiToken.scopes,
      actsFor: person.name,
      madeAt: apiToken.madeAt,
      expiresAt: apiToken.expiresAt,
      revokedAt: apiToken.revokedAt,
    })
    .from(apiToken)
    .innerJoin(person, eq(person.id, apiToken.personId))
    .orderBy(desc(apiToken.madeAt));
}

/**
 * The person for whom a token acts, or why it does not. Token, person and rights are read on every
 * request: what is revoked is gone with the next one.
 */
export async function actorOfToken(
  db: Db,
  token: string,
  scope: ApiScope,
  now: Date,
): Promise<SignedInPerson | 'unknown' | 'out of scope'> {
  const [found] = await db
    .select({ personId: apiToken.personId, scopes: apiToken.scopes })
    .from(apiToken)
    .where(
      and(
        eq(apiToken.digest, sha256(token)),
        isNull(apiToken.revokedAt),
        gt(apiToken.expiresAt, now),
      ),
    );
  const actor = found && (await actorOfPerson(db, found.personId));
  if (!actor) return 'unknown';
  return found.scopes.includes(scope) ? actor : 'out of scope';
}
