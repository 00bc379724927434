import { hashPassword } from 'better-auth/crypto';
import { and, eq } from 'drizzle-orm';
import { failure, type Result, success } from '@/lib/result';
import type { Db } from '../client';
import { appendToLedger } from '../ledger';
import { actorOfPerson } from '../reads/actor-of-person';
import { codesOfPerson, spendCode } from '../record/one-time-code';
import { endSessions, setPassword } from '../record/person-access';
import { person } from '../schema';
import { inTransaction } from '../transaction';

interface AcceptCode {
  readonly email: string;
  readonly code: string;
  readonly password: string;
  readonly now: Date;
}

/** Sets a password by a code that an admin issued. One answer for every refusal: it tells no address. */
export async function acceptCode(
  db: Db,
  { email, code, password, now }: AcceptCode,
): Promise<Result<null, 'refused'>> {
  const hashed = await hashPassword(password);
  return inTransaction(db, async (tx): Promise<Result<null, 'refused'>> => {
    const [found] = await tx
      .select({ id: person.id })
      .from(person)
      .where(and(eq(person.email, email), eq(person.isActive, true)))
      .for('update');
    if (!found || !(await spendCode(tx, codesOfPerson(found.id), code, now))) {
      return failure('refused');
    }
    await setPassword(tx, found.id, hashed);
    await endSessions(tx, found.id);
    await appendToLedger(tx, {
      kind: 'password set',
      actor: await actorOfPerson(tx, found.id),
      now,
      payload: { personId: found.id },
    });
    return success(null);
  });
}
