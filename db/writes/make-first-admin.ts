import { randomUUID } from 'node:crypto';
import { hashPassword } from 'better-auth/crypto';
import { failure, type Result, success } from '@/lib/result';
import type { Db } from '../client';
import { appendToLedger } from '../ledger';
import { actorOfPerson } from '../reads/actor-of-person';
import { isFirstRun } from '../reads/is-first-run';
import { firstRunCodes, spendCode } from '../record/one-time-code';
import { setPassword } from '../record/person-access';
import { person } from '../schema';
import { inTransaction } from '../transaction';

interface MakeFirstAdmin {
  readonly code: string;
  readonly name: string;
  readonly email: string;
  readonly password: string;
  readonly now: Date;
}

/** Makes the first admin by the code that the server printed, once and only while nobody is there. */
export async function makeFirstAdmin(
  db: Db,
  { code, name, email, password, now }: MakeFirstAdmin,
): Promise<Result<{ readonly personId: string }, 'not the first' | 'no such code'>> {
  const hashed = await hashPassword(password);
  return inTransaction(db, async (tx) => {
    if (!(await isFirstRun(tx))) return failure('not the first' as const);
    if (!(await spendCode(tx, firstRunCodes, code, now))) return failure('no such code' as const);
    const personId = randomUUID();
    await tx.insert(person).values({
      id: personId,
      name,
      email,
      badge: 'ADMIN',
      role: 'admin',
      roleSince: now,
      createdAt: now,
    });
    await setPassword(tx, personId, hashed);
    await appendToLedger(tx, {
      kind: 'first admin made',
      actor: await actorOfPerson(tx, personId),
      now,
      payload: { personId, name, email },
    });
    return success({ personId });
  });
}
