import { and, eq, sql } from 'drizzle-orm';
import type { Db } from '../client';
import { appendToLedger } from '../ledger';
import { actorOfPerson } from '../reads/actor-of-person';
import { codesOfPerson, makeCode } from '../record/one-time-code';
import { person, rateLimit } from '../schema';
import { inTransaction } from '../transaction';

const hourMs = 3_600_000;
export const codesAskedAnHour = 3;

export interface CodeAsked {
  readonly code: string;
  readonly expiresAt: Date;
}

/**
 * Makes the code with which whoever reads that mailbox sets another password; it runs out in an hour.
 * The old password and other codes stay: a stranger who asks changes nothing. Null where nobody
 * active has the address, or too many were asked for.
 */
export async function askResetCode(db: Db, email: string, now: Date): Promise<CodeAsked | null> {
  return inTransaction(db, async (tx) => {
    const [found] = await tx
      .select({ id: person.id })
      .from(person)
      .where(and(eq(person.email, email), eq(person.isActive, true)))
      .for('update');
    if (!found) return null;
    const key = `reset-code:${found.id}`;
    const at = now.getTime();
    const isFresh = sql`${rateLimit.lastRequest} < ${at - hourMs}`;
    const [asked] = await tx
      .insert(rateLimit)
      .values({ id: key, key, count: 1, lastRequest: at })
      .onConflictDoUpdate({
        target: rateLimit.key,
        set: {
          count: sql`case when ${isFresh} then 1 else ${rateLimit.count} + 1 end`,
          lastRequest: sql`case when ${isFresh} then ${at}::bigint else ${rateLimit.lastRequest} end`,
        },
      })
      .returning({ count: rateLimit.count });
    if (!asked || asked.count > codesAskedAnHour) return null;
    const expiresAt = new Date(at + hourMs);
    const code = await makeCode(tx, codesOfPerson(found.id), now, expiresAt);
    await appendToLedger(tx, {
      kind: 'reset code asked',
      actor: await actorOfPerson(tx, found.id),
      now,
      payload: { personId: found.id, expiresAt: expiresAt.toISOString() },
    });
    return { code, expiresAt };
  });
}
