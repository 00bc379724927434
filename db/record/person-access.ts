import { randomUUID } from 'node:crypto';
import { and, asc, eq, inArray } from 'drizzle-orm';
import { AccessDenied, type Actor } from '@/lib/access';
import type { Tx } from '../client';
import { account, person, personShed, session, shed } from '../schema';

const credential = 'credential';

/**
 * Locks the person changed and the admin who changes, in one order for everybody: two admins who
 * deactivate one another at once would otherwise leave nobody.
 */
export async function lockPerson(
  tx: Tx,
  actor: Actor,
  personId: string,
): Promise<typeof person.$inferSelect | undefined> {
  const rows = await tx
    .select()
    .from(person)
    .where(inArray(person.id, [actor.personId, personId]))
    .orderBy(asc(person.id))
    .for('update');
  const admin = rows.find(({ id }) => id === actor.personId);
  if (!admin?.isActive || admin.role !== actor.role) throw new AccessDenied(actor, 'change people');
  return rows.find(({ id }) => id === personId);
}

export async function endSessions(tx: Tx, personId: string): Promise<void> {
  await tx.delete(session).where(eq(session.userId, personId));
}

export async function removePassword(tx: Tx, personId: string): Promise<void> {
  await tx
    .delete(account)
    .where(and(eq(account.userId, personId), eq(account.providerId, credential)));
}

export async function setPassword(tx: Tx, personId: string, password: string): Promise<void> {
  await removePassword(tx, personId);
  await tx.insert(account).values({
    id: randomUUID(),
    accountId: personId,
    providerId: credential,
    userId: personId,
    password,
  });
}

export async function areSheds(tx: Tx, shedIds: readonly string[]): Promise<boolean> {
  const wanted = new Set(shedIds);
  if (wanted.size === 0) return true;
  const known = await tx
    .select({ id: shed.id })
    .from(shed)
    .where(inArray(shed.id, [...wanted]));
  return known.length === wanted.size;
}

export async function setSheds(
  tx: Tx,
  personId: string,
  shedIds: readonly string[],
): Promise<void> {
  await tx.delete(personShed).where(eq(personShed.personId, personId));
  if (shedIds.length === 0) return;
  await tx.insert(personShed).values([...new Set(shedIds)].map((shedId) => ({ personId, shedId })));
}
