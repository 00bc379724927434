import { and, eq } from 'drizzle-orm';
import type { Actor } from '@/lib/access';
import type { DistanceUnit, PressureUnit } from '@/lib/measure';
import type { Db, Tx } from '../client';
import { person, personShed, shed } from '../schema';

export interface SignedInPerson extends Actor {
  readonly badge: string;
  readonly pressureUnit: PressureUnit;
  readonly distanceUnit: DistanceUnit;
}

/**
 * The actor that a signed-in person is now, or null when the person may no longer act.
 * Read on every request, so that a right taken away is gone with the next one.
 */
export async function actorOfPerson(db: Db | Tx, personId: string): Promise<SignedInPerson | null> {
  const [found] = await db
    .select()
    .from(person)
    .where(and(eq(person.id, personId), eq(person.isActive, true)));
  if (!found) return null;
  const sheds = await db
    .select({ id: shed.id, pressureUnit: shed.pressureUnit, distanceUnit: shed.distanceUnit })
    .from(personShed)
    .innerJoin(shed, eq(shed.id, personShed.shedId))
    .where(eq(personShed.personId, personId))
    .orderBy(shed.name);
  return {
    personId: found.id,
    name: found.name,
    badge: found.badge,
    role: found.role,
    roleSince: found.roleSince,
    shedIds: sheds.map(({ id }) => id),
    pressureUnit: found.pressureUnit ?? sheds[0]?.pressureUnit ?? 'psi',
    distanceUnit: found.distanceUnit ?? sheds[0]?.distanceUnit ?? 'mi',
  };
}

/** The same by the address that a person signs in with, for commands that act in somebody's name. */
export async function actorByEmail(db: Db, email: string): Promise<SignedInPerson | null> {
  const [found] = await db
    .select({ id: person.id })
    .from(person)
    .where(eq(person.email, email.toLowerCase()));
  return found ? actorOfPerson(db, found.id) : null;
}
