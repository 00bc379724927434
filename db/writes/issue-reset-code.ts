import { type Actor, requirePermission } from '@/lib/access';
import { failure, type Result, success } from '@/lib/result';
import type { Db } from '../client';
import { appendToLedger } from '../ledger';
import { codesOfPerson, makeCode, withdrawCodes } from '../record/one-time-code';
import { endSessions, lockPerson, removePassword } from '../record/person-access';
import { inTransaction } from '../transaction';
import type { PersonRefusal } from './change-person';
import type { CodeMade } from './invite-person';

const resetMs = 86_400_000;

interface IssueResetCode {
  readonly actor: Actor;
  readonly personId: string;
  readonly now: Date;
}

/** Ends somebody's password and sessions at once, and makes the code with which they set another. */
export async function issueResetCode(
  db: Db,
  { actor, personId, now }: IssueResetCode,
): Promise<Result<CodeMade, PersonRefusal | 'barred'>> {
  requirePermission(actor, 'change people');
  if (personId === actor.personId) return failure('yourself');
  return inTransaction(db, async (tx): Promise<Result<CodeMade, PersonRefusal | 'barred'>> => {
    const before = await lockPerson(tx, actor, personId);
    if (!before) return failure('no such person');
    if (!before.isActive) return failure('barred');
    await removePassword(tx, personId);
    await endSessions(tx, personId);
    await withdrawCodes(tx, codesOfPerson(personId));
    const expiresAt = new Date(now.getTime() + resetMs);
    const code = await makeCode(tx, codesOfPerson(personId), now, expiresAt);
    await appendToLedger(tx, {
      kind: 'reset code issued',
      actor,
      now,
      payload: { personId, expiresAt: expiresAt.toISOString() },
    });
    return success({ personId, code, expiresAt });
  });
}
