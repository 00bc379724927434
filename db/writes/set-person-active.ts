import { eq } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import { failure, type Result, success } from '@/lib/result';
import type { Db } from '../client';
import { appendToLedger } from '../ledger';
import { codesOfPerson, withdrawCodes } from '../record/one-time-code';
import { endSessions, lockPerson } from '../record/person-access';
import { person } from '../schema';
import { inTransaction } from '../transaction';
import type { PersonRefusal } from './change-person';

interface SetPersonActive {
  readonly actor: Actor;
  readonly personId: string;
  readonly isActive: boolean;
  readonly now: Date;
}

/** Bars somebody, ending their sessions and codes, or lets them in again. What they signed stays. */
export async function setPersonActive(
  db: Db,
  { actor, personId, isActive, now }: SetPersonActive,
): Promise<Result<null, PersonRefusal>> {
  requirePermission(actor, 'change people');
  if (personId === actor.personId) return failure('yourself');
  return inTransaction(db, async (tx): Promise<Result<null, PersonRefusal>> => {
    const before = await lockPerson(tx, actor, personId);
    if (!before) return failure('no such person');
    if (before.isActive === isActive) return success(null);
    await tx.update(person).set({ isActive, updatedAt: now }).where(eq(person.id, personId));
    if (!isActive) {
      await endSessions(tx, personId);
      await withdrawCodes(tx, codesOfPerson(personId));
    }
    await appendToLedger(tx, {
      kind: isActive ? 'person let in again' : 'person barred',
      actor,
      now,
      payload: { personId },
    });
    return success(null);
  });
}
