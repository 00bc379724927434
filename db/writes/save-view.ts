import { count, eq } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import { failure, type Problem, type Result, success } from '@/lib/result';
import type { Db } from '../client';
import { appendToLedger } from '../ledger';
import { savedView } from '../schema';
import { inTransaction } from '../transaction';

interface SaveView {
  readonly actor: Actor;
  readonly name: string;
  readonly address: string;
  readonly now: Date;
}

const mostViews = 40;

/** Keeps an address of the yard under a name; the same name again takes the new address. */
export async function saveView(
  db: Db,
  { actor, name, address, now }: SaveView,
): Promise<Result<null>> {
  requirePermission(actor, 'see units');
  const { personId } = actor;
  return inTransaction(db, async (tx): Promise<Result<null>> => {
    const [own] = await tx
      .select({ views: count() })
      .from(savedView)
      .where(eq(savedView.personId, personId));
    if ((own?.views ?? 0) >= mostViews) return failure([tooMany]);
    await tx
      .insert(savedView)
      .values({ personId, name, address, savedAt: now })
      .onConflictDoUpdate({
        target: [savedView.personId, savedView.name],
        set: { address, savedAt: now },
      });
    await appendToLedger(tx, { kind: 'view saved', actor, now, payload: { name, address } });
    return success(null);
  });
}

const tooMany: Problem = {
  field: 'view-name',
  message: `${mostViews} views are saved already.`,
  mend: 'Remove one first.',
};
