import { eq } from 'drizzle-orm';
import { type Actor, may } from '@/lib/access';
import type { Db, Tx } from '../client';
import { linePhoto, reading } from '../schema';

/** The picture of a reading's line; null where there is none, or the unit is not open to the actor. */
export async function linePhotoOf(
  db: Db | Tx,
  actor: Actor,
  readingId: string,
): Promise<Uint8Array | null> {
  const [found] = await db
    .select({ content: linePhoto.content, shedId: reading.shedId })
    .from(linePhoto)
    .innerJoin(reading, eq(reading.id, linePhoto.readingId))
    .where(eq(linePhoto.readingId, readingId));
  return found && may(actor, 'see units', found.shedId) ? found.content : null;
}
