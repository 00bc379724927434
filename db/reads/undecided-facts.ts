import { and, asc, eq, isNull } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import type { Db } from '../client';
import { bulletin, bulletinUnit, shed, unit } from '../schema';
import { unitsSeenBy } from './units-seen-by';

/** One fact that somebody must find out, and the bulletins that wait for it. */
export interface UndecidedFact {
  readonly unitId: string;
  readonly shed: string;
  readonly fact: string;
  readonly whoCanGetIt: string;
  readonly how: string;
  readonly bulletins: readonly string[];
}

/** Missing facts of the units that the actor sees, by shed and unit: a list to walk the yard with. */
export async function undecidedFacts(db: Db, actor: Actor): Promise<readonly UndecidedFact[]> {
  requirePermission(actor, 'see units');
  const rows = await db
    .select({
      unitId: unit.id,
      shed: shed.name,
      missing: bulletinUnit.missing,
      number: bulletin.number,
      issue: bulletin.issue,
    })
    .from(bulletinUnit)
    .innerJoin(bulletin, eq(bulletin.id, bulletinUnit.bulletinId))
    .innerJoin(unit, eq(unit.id, bulletinUnit.unitId))
    .innerJoin(shed, eq(shed.id, unit.shedId))
    .where(and(eq(bulletinUnit.status, 'undecided'), isNull(unit.leftFleetOn), unitsSeenBy(actor)))
    .orderBy(asc(shed.name), asc(unit.id), asc(bulletin.number));
  const byFact = new Map<string, UndecidedFact>();
  for (const { unitId, shed: place, missing, number, issue } of rows) {
    for (const { fact, whoCanGetIt, how } of missing) {
      const key = `${unitId}\u0000${fact}`;
      const before = byFact.get(key)?.bulletins ?? [];
      const bulletins = [...before, `${number} issue ${issue}`];
      byFact.set(key, { unitId, shed: place, fact, whoCanGetIt, how, bulletins });
    }
  }
  return [...byFact.values()];
}
