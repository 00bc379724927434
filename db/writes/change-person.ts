import { eq } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import type { PlaceInFleet } from '@/lib/people/person-details';
import { failure, type Result, success } from '@/lib/result';
import type { Db } from '../client';
import { appendToLedger } from '../ledger';
import { areSheds, lockPerson, setSheds } from '../record/person-access';
import { person } from '../schema';
import { inTransaction } from '../transaction';

export type PersonRefusal = 'yourself' | 'no such person' | 'unknown shed';

interface ChangePerson {
  readonly actor: Actor;
  readonly personId: string;
  readonly place: PlaceInFleet;
  readonly now: Date;
}

/** Gives somebody a role and sheds. A role newly given counts its age from here. */
export async function changePerson(
  db: Db,
  { actor, personId, place, now }: ChangePerson,
): Promise<Result<null, PersonRefusal>> {
  requirePermission(actor, 'change people');
  if (personId === actor.personId) return failure('yourself');
  return inTransaction(db, async (tx): Promise<Result<null, PersonRefusal>> => {
    const before = await lockPerson(tx, actor, personId);
    if (!before) return failure('no such person');
    if (!(await areSheds(tx, place.shedIds))) return failure('unknown shed');
    if (before.role !== place.role) {
      await tx
        .update(person)
        .set({ role: place.role, roleSince: now, updatedAt: now, isOutsideCertifier: false })
        .where(eq(person.id, personId));
    }
    await setSheds(tx, personId, place.shedIds);
    await appendToLedger(tx, {
      kind: 'person changed',
      actor,
      now,
      payload: {
        personId,
        roleBefore: before.role,
        role: place.role,
        shedIds: [...place.shedIds],
      },
    });
    return success(null);
  });
}
