import { inArray, type SQL, sql } from 'drizzle-orm';
import { type Actor, permissionOf, requirePermission } from '@/lib/access';
import { unit } from '../schema';

/** The units that a person may see, as a condition on `unit`; undefined where that is every unit. */
export function unitsSeenBy(actor: Actor): SQL | undefined {
  requirePermission(actor, 'see units');
  if (permissionOf(actor.role, 'see units') === 'yes') return undefined;
  return actor.shedIds.length === 0 ? sql`false` : inArray(unit.shedId, [...actor.shedIds]);
}
