import { eq } from 'drizzle-orm';
import type { Actor } from '@/lib/access';
import type { DistanceUnit, PressureUnit } from '@/lib/measure';
import type { Db } from '../client';
import { person } from '../schema';

export interface OwnUnits {
  readonly pressureUnit: PressureUnit | null;
  readonly distanceUnit: DistanceUnit | null;
}

/** What the person chose; null where the shed's unit stands. */
export async function ownUnits(db: Db, { personId }: Actor): Promise<OwnUnits> {
  const [own] = await db
    .select({ pressureUnit: person.pressureUnit, distanceUnit: person.distanceUnit })
    .from(person)
    .where(eq(person.id, personId));
  return own ?? { pressureUnit: null, distanceUnit: null };
}
