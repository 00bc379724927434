import { type Actor, requirePermission } from '@/lib/access';
import type { Db, Tx } from '../client';
import { jobTemplate, taskKinds } from '../schema';

/** What each kind of task takes, in the order in which kinds are listed. */
export async function jobTemplates(
  db: Db | Tx,
  actor: Actor,
): Promise<(typeof jobTemplate.$inferSelect)[]> {
  requirePermission(actor, 'see units');
  const rows = await db.select().from(jobTemplate);
  return taskKinds.flatMap((kind) => rows.find((row) => row.kind === kind) ?? []);
}
