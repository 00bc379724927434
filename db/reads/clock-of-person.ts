import { asc, inArray } from 'drizzle-orm';
import type { Actor } from '@/lib/access';
import type { Db, Tx } from '../client';
import { shed } from '../schema';

/** Time zone that a person's lists are dated in: of the first shed worked in, else of the fleet's first. */
export async function clockOfPerson(db: Db | Tx, actor: Actor): Promise<string> {
  const own = actor.shedIds.length > 0 ? inArray(shed.id, [...actor.shedIds]) : undefined;
  const [first] = await db
    .select({ timeZone: shed.timeZone })
    .from(shed)
    .where(own)
    .orderBy(asc(shed.name))
    .limit(1);
  return first?.timeZone ?? 'UTC';
}
