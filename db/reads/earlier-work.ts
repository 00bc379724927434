import { asc, eq } from 'drizzle-orm';
import type { EarlierWork } from '@/lib/bulletins/status-under-later-issue';
import type { BulletinFacts } from '@/lib/bulletins/unit-facts';
import type { Db, Tx } from '../client';
import { stateOfPair } from '../record/move-bulletin';
import { bulletinUnit } from '../schema';

/** Where each unit stands under an issue that is replaced, with the parts of the units in question. */
export async function earlierWork(
  db: Db | Tx,
  replacedId: string,
  units: readonly BulletinFacts[],
): Promise<Map<string, EarlierWork>> {
  const pairs = await db
    .select()
    .from(bulletinUnit)
    .where(eq(bulletinUnit.bulletinId, replacedId))
    .orderBy(asc(bulletinUnit.unitId));
  const fittedOn = new Map(units.map(({ unit, fitted }) => [unit, fitted]));
  return new Map(
    pairs.map((pair) => [
      pair.unitId,
      { state: stateOfPair(pair), fitted: fittedOn.get(pair.unitId) ?? [] },
    ]),
  );
}
