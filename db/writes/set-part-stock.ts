import { and, eq } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import { failure, type Problem, type Result, success } from '@/lib/result';
import type { Db, Tx } from '../client';
import { appendToLedger } from '../ledger';
import { partStock } from '../schema';
import { inTransaction } from '../transaction';

type Part = Omit<typeof partStock.$inferSelect, 'price'>;

interface SetPartStock {
  readonly actor: Actor;
  readonly part: Part;
  /** What the person saw on record; null for a revision that is new. */
  readonly seen: Pick<Part, 'inStock' | 'leadTimeDays'> | null;
  readonly now: Date;
}

const refused = (field: string, message: string, mend: string): Result<never, Problem> =>
  failure({ field, message, mend });

/** Puts a part revision on the list, or its stock, lead time and successor right. */
export async function setPartStock(
  db: Db,
  { actor, part, seen, now }: SetPartStock,
): Promise<Result<void, Problem>> {
  requirePermission(actor, 'plan');
  const { partNumber, revision, ...values } = part;
  const which = and(eq(partStock.partNumber, partNumber), eq(partStock.revision, revision));
  return inTransaction(db, async (tx) => {
    const [before] = await tx.select().from(partStock).where(which).for('update');
    if (seen === null && before) {
      return refused('revision', 'It is on the list already.', 'Edit it in the list.');
    }
    if (seen !== null && !isAsSeen(before, seen)) {
      return refused('inStock', 'Somebody has changed it meanwhile.', 'Load the page again.');
    }
    if (!(await isSuccessor(tx, part))) {
      return refused(
        'supersededBy',
        `${partNumber} has no other revision ${part.supersededBy}.`,
        'Put the later revision on the list first.',
      );
    }
    await tx
      .insert(partStock)
      .values(part)
      .onConflictDoUpdate({ target: [partStock.partNumber, partStock.revision], set: values });
    await appendToLedger(tx, {
      kind: 'part stock set',
      actor,
      now,
      payload: {
        ...part,
        before: before ? { inStock: before.inStock, leadTimeDays: before.leadTimeDays } : null,
      },
    });
    return success(undefined);
  });
}

const isAsSeen = (
  before: Pick<Part, 'inStock' | 'leadTimeDays'> | undefined,
  seen: Pick<Part, 'inStock' | 'leadTimeDays'>,
): boolean => before?.inStock === seen.inStock && before.leadTimeDays === seen.leadTimeDays;

/** Whether the revision that is said to replace the part is another one on the list, or none is said. */
async function isSuccessor(tx: Tx, { partNumber, revision, supersededBy }: Part): Promise<boolean> {
  if (supersededBy === null) return true;
  if (supersededBy === revision) return false;
  const [found] = await tx
    .select({ revision: partStock.revision })
    .from(partStock)
    .where(and(eq(partStock.partNumber, partNumber), eq(partStock.revision, supersededBy)));
  return found !== undefined;
}
