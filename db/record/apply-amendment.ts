import { and, eq, isNotNull } from 'drizzle-orm';
import type { Actor } from '@/lib/access';
import { proofFailureWords } from '@/lib/stand-down/proof-failures';
import type { Tx } from '../client';
import { appendToLedger } from '../ledger';
import { proofReadings } from '../reads/proof-readings';
import { amendment, type reading, shed, spell } from '../schema';
import { judgeBulletinsOfUnits } from './judge-bulletins';
import { judgeUnit } from './judge-unit';
import { noteAmendedDriving } from './note-driving';
import { openSpell } from './open-spell';

type Amendment = typeof amendment.$inferSelect;

interface ApplyAmendment {
  readonly amendment: Amendment;
  readonly of: typeof reading.$inferSelect;
  readonly actor: Actor;
  readonly now: Date;
}

/**
 * Lets an amendment count, unit locked: approved, judged, on the ledger. It closes no spell; it opens
 * one where the amended value passes a stop, or where the reading proved a release and no longer does.
 */
export async function applyAmendment(
  tx: Tx,
  { amendment: asked, of, actor, now }: ApplyAmendment,
): Promise<void> {
  await tx
    .update(amendment)
    .set({ state: 'approved', decidedBy: actor.personId, decidedAt: now })
    .where(eq(amendment.id, asked.id));
  await appendToLedger(tx, {
    kind: 'amendment approved',
    actor,
    now,
    unitId: of.unitId,
    payload: {
      amendmentId: asked.id,
      readingId: of.id,
      before: asked.before,
      after: asked.after,
      reason: asked.reason,
      madeBy: asked.madeBy,
    },
  });
  const { odometerKm: odometer } = asked.after;
  if (odometer != null) await noteAmendedDriving(tx, { of, odometer, actor, now });
  await withdrawProof(tx, of, actor, now);
  await judgeBulletinsOfUnits(tx, [of.unitId], {
    touched: 'readings',
    isCorrection: true,
    because: 'amendment approved',
    actor,
    now,
  });
  await judgeUnit(tx, { unitId: of.unitId, actor, now, because: 'amendment approved' });
}

async function withdrawProof(
  tx: Tx,
  of: typeof reading.$inferSelect,
  actor: Actor,
  now: Date,
): Promise<void> {
  const [proven] = await tx
    .select({ id: spell.id })
    .from(spell)
    .where(and(eq(spell.proofReadingId, of.id), isNotNull(spell.releasedAt)));
  const [place] = await tx.select().from(shed).where(eq(shed.id, of.shedId));
  if (!proven || !place) return;
  const readings = await proofReadings(tx, new Map([[of.unitId, place]]), of.readAt);
  const amended = readings.get(of.unitId)?.find(({ readingId }) => readingId === of.id);
  if (!amended || amended.failures.length + amended.notMeasured.length === 0) return;
  const words = amended.failures.map((one) => proofFailureWords(one, place.pressureUnit));
  await openSpell(tx, {
    unitId: of.unitId,
    cause: 'proof withdrawn',
    why: `Proof withdrawn: ${words.join('; ') || `not measured: ${amended.notMeasured.join(', ')}`}.`,
    openedBy: actor,
    readingId: of.id,
    wasWarned: false,
    now,
  });
}
