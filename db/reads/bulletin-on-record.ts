import { count, eq } from 'drizzle-orm';
import { alias } from 'drizzle-orm/pg-core';
import { type Actor, requirePermission } from '@/lib/access';
import type { Db } from '../client';
import { bulletin, bulletinAttachment, bulletinUnit, judgingDue, person } from '../schema';

/** One bulletin with who entered and approved it, its notice, the issues beside it, its counts and how many of its units wait to be judged. */
export async function bulletinOnRecord(db: Db, actor: Actor, bulletinId: string) {
  requirePermission(actor, 'see units');
  const enterer = alias(person, 'enterer');
  const approver = alias(person, 'approver');
  const earlier = alias(bulletin, 'earlier');
  const later = alias(bulletin, 'later');
  const [row] = await db
    .select({
      bulletin,
      enteredByName: enterer.name,
      approvedByName: approver.name,
      earlier: { id: earlier.id, number: earlier.number, issue: earlier.issue },
      later: { id: later.id, number: later.number, issue: later.issue },
      attachment: {
        name: bulletinAttachment.name,
        digest: bulletinAttachment.digest,
        attachedAt: bulletinAttachment.attachedAt,
      },
    })
    .from(bulletin)
    .leftJoin(enterer, eq(enterer.id, bulletin.enteredBy))
    .leftJoin(approver, eq(approver.id, bulletin.approvedBy))
    .leftJoin(earlier, eq(earlier.id, bulletin.supersedesId))
    .leftJoin(later, eq(later.supersedesId, bulletin.id))
    .leftJoin(bulletinAttachment, eq(bulletinAttachment.bulletinId, bulletin.id))
    .where(eq(bulletin.id, bulletinId));
  if (!row) return null;
  const counts = await db
    .select({ status: bulletinUnit.status, units: count() })
    .from(bulletinUnit)
    .where(eq(bulletinUnit.bulletinId, bulletinId))
    .groupBy(bulletinUnit.status);
  const [left] = await db
    .select({ units: count() })
    .from(judgingDue)
    .innerJoin(bulletinUnit, eq(bulletinUnit.unitId, judgingDue.unitId))
    .where(eq(bulletinUnit.bulletinId, bulletinId));
  return { ...row, counts, beingJudged: left?.units ?? 0 };
}
