import { asc, eq, isNull } from 'drizzle-orm';
import { alias } from 'drizzle-orm/pg-core';
import { type Actor, requirePermission } from '@/lib/access';
import type { Db } from '../client';
import { bulletin } from '../schema';

/** Issues that no later one replaces. */
export async function bulletinsInForce(db: Db, actor: Actor) {
  requirePermission(actor, 'see units');
  const later = alias(bulletin, 'later');
  const { id, number, issue, title, kind, approvedAt } = bulletin;
  return db
    .select({ id, number, issue, title, kind, approvedAt })
    .from(bulletin)
    .leftJoin(later, eq(later.supersedesId, bulletin.id))
    .where(isNull(later.id))
    .orderBy(asc(bulletin.number), asc(bulletin.issue));
}
