import type { Db, Tx } from '../client';
import { person } from '../schema';

/** True as long as nobody is on record: then, and only then, a printed code makes the first admin. */
export async function isFirstRun(db: Db | Tx): Promise<boolean> {
  return (await db.select({ id: person.id }).from(person).limit(1)).length === 0;
}
