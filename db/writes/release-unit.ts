import { and, eq } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import { failure, type Result, success } from '@/lib/result';
import { mayRelease } from '@/lib/stand-down/next-steps';
import type { Refusal } from '@/lib/stand-down/refusals';
import type { Db, Tx } from '../client';
import { appendToLedgerAtOnce } from '../ledger';
import { openSpellOfUnit } from '../reads/facts-of-spells';
import { smallShop } from '../reads/small-shop';
import { changeOrder, lockOrder } from '../record/change-order';
import { followOrder } from '../record/follow-order';
import { judgeUnit } from '../record/judge-unit';
import { spell, workOrder } from '../schema';
import { inTransaction, lockUnit } from '../transaction';

interface ReleaseUnit {
  readonly actor: Actor;
  readonly unitId: string;
  /** The spell that the releaser saw: another one, opened since, is not released unseen. */
  readonly spellId: string;
  readonly whatWasChecked: string;
  readonly signedInAgainAt: Date | null;
  readonly now: Date;
}

export interface Released {
  readonly spellId: string;
  readonly entry: number;
  readonly hash: string;
}

/** The last signature. The only write in the program that ends a spell. */
export async function releaseUnit(
  db: Db,
  { actor, unitId, spellId, whatWasChecked, signedInAgainAt, now }: ReleaseUnit,
): Promise<Result<Released, Refusal>> {
  requirePermission(actor, 'release to service');
  return inTransaction(db, async (tx): Promise<Result<Released, Refusal>> => {
    await lockUnit(tx, unitId);
    const open = await openSpellOfUnit(tx, unitId);
    if (open?.row.id !== spellId) return failure('no open spell');
    if (!whatWasChecked.trim()) return failure('nothing said of what was checked');
    const settings = { isSmallShop: (await smallShop(tx)).isOn };
    const allowed = mayRelease(open.facts, actor, { now, signedInAgainAt, settings });
    if (!allowed.ok) return allowed;
    const { proof, isSmallShop } = allowed.value;
    await tx
      .update(spell)
      .set({
        proofReadingId: proof.readingId,
        proofReadBy: proof.readBy,
        releasedBy: actor.personId,
        releasedAt: now,
        releasedNote: whatWasChecked,
        isSmallShop,
      })
      .where(eq(spell.id, spellId));
    const ordersClosed = await closeFinishedOrders(tx, unitId, actor, now);
    const noted = await appendToLedgerAtOnce(tx, {
      kind: 'released to service',
      actor,
      now,
      unitId,
      payload: {
        spellId,
        certificate: open.row.certificate,
        certifiedBy: open.row.certifiedBy,
        proofReadingId: proof.readingId,
        proofReadBy: proof.readBy,
        whatWasChecked,
        isSmallShop,
        ordersClosed,
      },
    });
    await judgeUnit(tx, { unitId, actor, now, because: 'released to service' });
    return success({ spellId, ...noted });
  });
}

/** The proof has passed, so the work that it proves is closed with it. */
async function closeFinishedOrders(
  tx: Tx,
  unitId: string,
  actor: Actor,
  now: Date,
): Promise<number[]> {
  const finished = await tx
    .select({ id: workOrder.id })
    .from(workOrder)
    .where(and(eq(workOrder.unitId, unitId), eq(workOrder.state, 'finished')));
  const closed: number[] = [];
  for (const { id } of finished) {
    const locked = await lockOrder(tx, id);
    if (!locked) continue;
    const changed = await changeOrder(tx, locked, { move: 'prove', mover: 'system', now });
    if (!changed.ok) continue;
    await followOrder(tx, { order: changed.value, tasks: locked.tasks, actor, now });
    closed.push(changed.value.number);
  }
  return closed;
}
