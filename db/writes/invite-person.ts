import { randomUUID } from 'node:crypto';
import { eq, or } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import type { PersonDetails } from '@/lib/people/person-details';
import { failure, type Problem, type Result, success } from '@/lib/result';
import type { Db } from '../client';
import { appendToLedger } from '../ledger';
import { codesOfPerson, makeCode } from '../record/one-time-code';
import { areSheds, lockPerson, setSheds } from '../record/person-access';
import { person } from '../schema';
import { inTransaction, sqlState } from '../transaction';

const invitationMs = 7 * 86_400_000;

interface InvitePerson {
  readonly actor: Actor;
  readonly details: PersonDetails;
  readonly now: Date;
}

export interface CodeMade {
  readonly personId: string;
  /** Told here and nowhere else: only its digest is kept. */
  readonly code: string;
  readonly expiresAt: Date;
}

/** Puts a person on record, without a password, and makes the code with which they set one. */
export async function invitePerson(
  db: Db,
  { actor, details, now }: InvitePerson,
): Promise<Result<CodeMade>> {
  requirePermission(actor, 'change people');
  const { shedIds, ...row } = details;
  try {
    return await inTransaction(db, async (tx): Promise<Result<CodeMade>> => {
      await lockPerson(tx, actor, actor.personId);
      const [same] = await tx
        .select({ email: person.email })
        .from(person)
        .where(or(eq(person.email, row.email), eq(person.badge, row.badge)));
      if (same) return taken(same.email === row.email ? 'email' : 'badge');
      if (!(await areSheds(tx, shedIds))) return failure([unknownShed]);
      const personId = randomUUID();
      await tx.insert(person).values({ ...row, id: personId, roleSince: now, createdAt: now });
      await setSheds(tx, personId, shedIds);
      const expiresAt = new Date(now.getTime() + invitationMs);
      const code = await makeCode(tx, codesOfPerson(personId), now, expiresAt);
      await appendToLedger(tx, {
        kind: 'person invited',
        actor,
        now,
        payload: { personId, ...row, shedIds: [...shedIds] },
      });
      return success({ personId, code, expiresAt });
    });
  } catch (error) {
    // Two invitations at once: the second finds the address or the badge taken.
    if (sqlState(error) === '23505') return taken('email');
    throw error;
  }
}

const problems = {
  email: {
    field: 'email',
    message: 'Somebody with this address is on record.',
    mend: 'Look them up in the list.',
  },
  badge: {
    field: 'badge',
    message: 'Somebody carries this badge.',
    mend: 'Choose another.',
  },
} as const;

const taken = (field: keyof typeof problems): Result<never> => failure([problems[field]]);

const unknownShed: Problem = {
  field: 'shedIds',
  message: 'One of the sheds is not on record.',
  mend: 'Load the page again and choose anew.',
};
