import { asc, eq } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import type { Db, Tx } from '../client';
import { savedView } from '../schema';

export interface SavedView {
  readonly id: string;
  readonly name: string;
  readonly address: string;
}

/** A person's own views of the yard, by name. */
export async function savedViews(db: Db | Tx, actor: Actor): Promise<SavedView[]> {
  requirePermission(actor, 'see units');
  return db
    .select({ id: savedView.id, name: savedView.name, address: savedView.address })
    .from(savedView)
    .where(eq(savedView.personId, actor.personId))
    .orderBy(asc(savedView.name));
}
