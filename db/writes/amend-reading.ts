import { eq } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import { mayAmend } from '@/lib/intake/may-amend';
import { measuredValues } from '@/lib/intake/measured-values';
import type { ReadingPayload } from '@/lib/intake/reading-payload';
import { failure, type Result, success } from '@/lib/result';
import type { Db } from '../client';
import { appendToLedger } from '../ledger';
import { applyAmendment } from '../record/apply-amendment';
import { implausibilities, needsSafetyOfficer, valuesBefore } from '../record/weigh-amendment';
import { type AmendedValues, amendment, reading } from '../schema';
import { inTransaction, lockUnit } from '../transaction';

interface AmendReading {
  readonly actor: Actor;
  readonly amendmentId: string;
  readonly readingId: string;
  /** Only what changes; a field left out keeps its value. */
  readonly keyed: ReadingPayload['keyed'];
  readonly seen: Pick<AmendedValues, 'line' | 'pedal' | 'belt' | 'holdTimeS' | 'note'>;
  readonly reason: string;
  readonly now: Date;
}

export interface Amended {
  readonly state: 'approved' | 'asked';
  /** Why a safety officer must decide. */
  readonly because: readonly string[];
}

const problem = (field: string, message: string, mend: string): Result<never> =>
  failure([{ field, message, mend }]);

/** Corrects a reading beside its first values. What could make a unit look better waits for approval. */
export async function amendReading(
  db: Db,
  { actor, amendmentId, readingId, keyed, seen, reason, now }: AmendReading,
): Promise<Result<Amended>> {
  const measured = measuredValues(keyed);
  if (!measured.ok) return measured;
  if (!reason.trim()) {
    return problem('reason', 'No reason is given.', 'Say what was wrong with the reading.');
  }
  const after = changedValues(measured.value, seen);
  if (Object.keys(after).length === 0) {
    return problem('idle', 'Nothing is changed.', 'Key the value that was wrong.');
  }
  return inTransaction(db, async (tx): Promise<Result<Amended>> => {
    const [found] = await tx.select().from(reading).where(eq(reading.id, readingId));
    if (!found) return problem('reading', 'No such reading is on record.', 'Open it anew.');
    await lockUnit(tx, found.unitId);
    requirePermission(actor, 'amend a reading', found.shedId);
    if (!mayAmend(actor, found, now)) {
      return problem(
        'reason',
        'You amend your own readings, within 24 hours.',
        'Ask the safety officer.',
      );
    }
    const [before] = await tx.select().from(amendment).where(eq(amendment.id, amendmentId));
    if (before) {
      return before.state === 'refused'
        ? problem('reason', 'This amendment was refused.', 'Make a new one.')
        : success({ state: before.state, because: [] });
    }
    const implausible = await implausibilities(tx, found, after, keyed);
    if (implausible.length > 0) return failure(implausible);
    const [asked] = await tx
      .insert(amendment)
      .values({
        id: amendmentId,
        readingId,
        before: await valuesBefore(tx, found, after),
        after,
        keyed,
        reason,
        state: 'asked',
        madeBy: actor.personId,
        madeAt: now,
      })
      .returning();
    if (!asked) throw new Error('the amendment was not stored');
    await appendToLedger(tx, {
      kind: 'amendment made',
      actor,
      now,
      unitId: found.unitId,
      payload: { amendmentId, readingId, before: asked.before, after, reason },
    });
    const because = await needsSafetyOfficer(tx, asked, found.unitId, now);
    if (because.length > 0 && actor.role !== 'safety officer') {
      return success({ state: 'asked', because });
    }
    await applyAmendment(tx, { amendment: asked, of: found, actor, now });
    return success({ state: 'approved', because });
  });
}

type Measured = Extract<ReturnType<typeof measuredValues>, { readonly ok: true }>['value'];

function changedValues(measured: Measured, seen: AmendReading['seen']): AmendedValues {
  const { idle, raised, lowest, recovery, holdLoss, odometer, barometer } = measured;
  const all: AmendedValues = {
    ...(idle !== null && { idleVacuumKpa: idle }),
    ...(raised !== null && { raisedVacuumKpa: raised }),
    ...(lowest !== null && { lowestKpa: lowest }),
    ...(recovery !== null && { recoveryS: recovery }),
    ...(holdLoss !== null && { holdLossKpa: holdLoss }),
    ...(odometer !== null && { odometerKm: odometer }),
    ...(barometer !== null && { barometerKpa: barometer }),
    ...seen,
  };
  return Object.fromEntries(Object.entries(all).filter(([, value]) => value !== undefined));
}
