import { asc, desc, gt } from 'drizzle-orm';
import { type Actor, type Role, requirePermission } from '@/lib/access';
import type { Db, Tx } from '../client';
import { codesOfPerson } from '../record/one-time-code';
import { account, person, personShed, shed, verification } from '../schema';

export interface PersonListed {
  readonly id: string;
  readonly name: string;
  readonly email: string;
  readonly badge: string;
  readonly role: Role;
  readonly roleSince: Date;
  readonly isActive: boolean;
  readonly isOutsideCertifier: boolean;
  readonly shedIds: readonly string[];
  /** False until the person has set a password with a code. */
  readonly hasPassword: boolean;
  /** When the code that is out runs out; null where none is. */
  readonly codeUntil: Date | null;
}

export interface People {
  readonly people: readonly PersonListed[];
  readonly sheds: readonly { readonly id: string; readonly name: string }[];
}

/** Everybody on record, those who may act first, and the sheds they can be given. */
export async function people(db: Db | Tx, actor: Actor, now: Date): Promise<People> {
  requirePermission(actor, 'see people');
  const rows = await db.select().from(person).orderBy(desc(person.isActive), asc(person.name));
  const sheds = await db
    .select({ id: shed.id, name: shed.name })
    .from(shed)
    .orderBy(asc(shed.name));
  const places = await db.select().from(personShed);
  const shedsOf = new Map<string, string[]>();
  for (const { personId, shedId } of places) {
    shedsOf.set(personId, [...(shedsOf.get(personId) ?? []), shedId]);
  }
  const accounts = await db.select({ userId: account.userId }).from(account);
  const withPassword = new Set(accounts.map(({ userId }) => userId));
  const codes = await db
    .select({ identifier: verification.identifier, expiresAt: verification.expiresAt })
    .from(verification)
    .where(gt(verification.expiresAt, now));
  const codeUntil = new Map(codes.map(({ identifier, expiresAt }) => [identifier, expiresAt]));
  return {
    sheds,
    people: rows.map(
      ({ id, name, email, badge, role, roleSince, isActive, isOutsideCertifier }) => ({
        id,
        name,
        email,
        badge,
        role,
        roleSince,
        isActive,
        isOutsideCertifier,
        shedIds: shedsOf.get(id) ?? [],
        hasPassword: withPassword.has(id),
        codeUntil: codeUntil.get(codesOfPerson(id)) ?? null,
      }),
    ),
  };
}
