import { eq } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import type { Db } from '../client';
import { bulletinAttachment } from '../schema';

/** The notice as it was attached, or null where there is none. */
export async function noticeOfBulletin(
  db: Db,
  actor: Actor,
  bulletinId: string,
): Promise<{ readonly name: string; readonly content: Uint8Array } | null> {
  requirePermission(actor, 'see units');
  const [row] = await db
    .select({ name: bulletinAttachment.name, content: bulletinAttachment.content })
    .from(bulletinAttachment)
    .where(eq(bulletinAttachment.bulletinId, bulletinId));
  return row ?? null;
}
