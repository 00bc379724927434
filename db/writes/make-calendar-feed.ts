import { randomBytes } from 'node:crypto';
import { type Actor, requirePermission } from '@/lib/access';
import type { Db } from '../client';
import { appendToLedger, sha256 } from '../ledger';
import { calendarFeed } from '../schema';
import { inTransaction } from '../transaction';

/** 256 bits, so that a plain digest can be kept of it. */
const tokenBytes = 32;

/** Gives the actor a calendar address, told this once; an earlier one stops working. */
export async function makeCalendarFeed(
  db: Db,
  { actor, now }: { readonly actor: Actor; readonly now: Date },
): Promise<string> {
  requirePermission(actor, 'see units');
  const token = randomBytes(tokenBytes).toString('base64url');
  const row = { tokenDigest: sha256(token), madeAt: now };
  await inTransaction(db, async (tx) => {
    await tx
      .insert(calendarFeed)
      .values({ personId: actor.personId, ...row })
      .onConflictDoUpdate({ target: calendarFeed.personId, set: row });
    await appendToLedger(tx, { kind: 'calendar address made', actor, now, payload: {} });
  });
  return token;
}
