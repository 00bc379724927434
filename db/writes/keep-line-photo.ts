import { createHash } from 'node:crypto';
import { eq } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import { linePhoto as readLinePhoto } from '@/lib/intake/line-photo';
import { failure, type Problem, type Result, success } from '@/lib/result';
import type { Db } from '../client';
import { appendToLedger } from '../ledger';
import { linePhoto, reading } from '../schema';
import { inTransaction, lockUnit } from '../transaction';

interface KeepLinePhoto {
  readonly actor: Actor;
  readonly readingId: string;
  readonly content: Uint8Array;
  readonly now: Date;
}

export type PhotoRefused = {
  readonly kind: 'unknown' | 'another' | 'unfit';
  readonly problem: Problem;
};

const refuse = (kind: PhotoRefused['kind'], message: string): Result<never, PhotoRefused> =>
  failure({ kind, problem: { field: 'photo', message, mend: 'Take the picture again.' } });

/** Keeps the picture of a reading on record. The first stays: sent again it changes nothing. */
export async function keepLinePhoto(
  db: Db,
  { actor, readingId, content, now }: KeepLinePhoto,
): Promise<Result<{ readonly digest: string }, PhotoRefused>> {
  const fit = readLinePhoto(content);
  if (!fit.ok) return failure({ kind: 'unfit', problem: fit.error });
  const digest = createHash('sha256').update(content).digest('hex');
  return inTransaction(db, async (tx): Promise<Result<{ digest: string }, PhotoRefused>> => {
    const [of] = await tx
      .select({ unitId: reading.unitId, shedId: reading.shedId })
      .from(reading)
      .where(eq(reading.id, readingId));
    if (!of) return refuse('unknown', 'No such reading is on record.');
    await lockUnit(tx, of.unitId);
    requirePermission(actor, 'record a reading', of.shedId);
    const [before] = await tx
      .select({ digest: linePhoto.digest })
      .from(linePhoto)
      .where(eq(linePhoto.readingId, readingId));
    if (before) {
      return before.digest === digest
        ? success({ digest })
        : refuse('another', 'Another picture of this reading is on record.');
    }
    await tx
      .insert(linePhoto)
      .values({ readingId, content: fit.value, digest, sentBy: actor.personId, receivedAt: now });
    await appendToLedger(tx, {
      kind: 'line photo kept',
      actor,
      now,
      unitId: of.unitId,
      payload: { readingId, bytes: content.length, digest },
    });
    return success({ digest });
  });
}
