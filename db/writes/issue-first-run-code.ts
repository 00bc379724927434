import { and, eq, lte } from 'drizzle-orm';
import type { Db } from '../client';
import { isFirstRun } from '../reads/is-first-run';
import { firstRunCodes, makeCode } from '../record/one-time-code';
import { verification } from '../schema';
import { inTransaction } from '../transaction';

const firstRunMs = 86_400_000;

/** A code for the person who started the server; null once somebody is on record. */
export async function issueFirstRunCode(db: Db, now: Date): Promise<string | null> {
  return inTransaction(db, async (tx) => {
    if (!(await isFirstRun(tx))) return null;
    await tx
      .delete(verification)
      .where(and(eq(verification.identifier, firstRunCodes), lte(verification.expiresAt, now)));
    // Codes of other instances stay good: whichever was printed last, each opens the door once.
    return makeCode(tx, firstRunCodes, now, new Date(now.getTime() + firstRunMs));
  });
}
