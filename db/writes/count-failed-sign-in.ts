import { eq, sql } from 'drizzle-orm';
import type { Db } from '../client';
import { rateLimit } from '../schema';

export const failedSignInsAllowed = 10;
const windowMs = 15 * 60_000;
const keyOf = (email: string) => `failed-sign-in:${email.trim().toLowerCase()}`;

/** Counts one failure against the account, whatever address it came from. */
export async function countFailedSignIn(db: Db, email: string, now: Date): Promise<void> {
  const key = keyOf(email);
  const at = now.getTime();
  await db
    .insert(rateLimit)
    .values({ id: key, key, count: 1, lastRequest: at })
    .onConflictDoUpdate({
      target: rateLimit.key,
      set: {
        count: sql`case when ${rateLimit.lastRequest} < ${at - windowMs} then 1 else ${rateLimit.count} + 1 end`,
        lastRequest: at,
      },
    });
}

/** Whole minutes until the account may try again, or 0 when it may now. */
export async function signInBlockedMinutes(db: Db, email: string, now: Date): Promise<number> {
  const [row] = await db
    .select()
    .from(rateLimit)
    .where(eq(rateLimit.key, keyOf(email)));
  if (!row || row.count < failedSignInsAllowed) return 0;
  return Math.max(0, Math.ceil((row.lastRequest + windowMs - now.getTime()) / 60_000));
}

export async function forgetFailedSignIns(db: Db, email: string): Promise<void> {
  await db.delete(rateLimit).where(eq(rateLimit.key, keyOf(email)));
}
