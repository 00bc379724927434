import type { Db } from '@/db/client';
import { actorByEmail } from '@/db/reads/actor-of-person';
import type { Actor } from '@/lib/access';

/** Cannot be imported as asked; the message says why. */
export class NotImported extends Error {}

/** The person of that address, with that person's rights. */
export async function personActing(db: Db, email: string): Promise<Actor> {
  const actor = await actorByEmail(db, email);
  if (!actor) throw new NotImported(`Nobody who may act is on record under ${email}.`);
  return actor;
}
