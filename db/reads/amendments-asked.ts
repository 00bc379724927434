import { and, asc, eq } from 'drizzle-orm';
import { type Actor, may } from '@/lib/access';
import type { Db, Tx } from '../client';
import { type AmendedValues, amendment, person, reading, unit } from '../schema';
import { unitsSeenBy } from './units-seen-by';

export interface AmendmentAsked {
  readonly id: string;
  readonly unitId: string;
  readonly entry: number;
  readonly readOn: string;
  readonly before: AmendedValues;
  readonly after: AmendedValues;
  readonly reason: string;
  readonly madeBy: string;
  readonly madeAt: Date;
  /** False for the person who made it. */
  readonly isMineToDecide: boolean;
}

/** Amendments that wait for a safety officer, oldest first. */
export async function amendmentsAsked(
  db: Db | Tx,
  actor: Actor,
): Promise<readonly AmendmentAsked[]> {
  const rows = await db
    .select({
      id: amendment.id,
      unitId: reading.unitId,
      entry: reading.entry,
      readOn: reading.readOn,
      before: amendment.before,
      after: amendment.after,
      reason: amendment.reason,
      madeBy: person.name,
      madeAt: amendment.madeAt,
      madeById: amendment.madeBy,
    })
    .from(amendment)
    .innerJoin(reading, eq(reading.id, amendment.readingId))
    .innerJoin(unit, eq(unit.id, reading.unitId))
    .innerJoin(person, eq(person.id, amendment.madeBy))
    .where(and(eq(amendment.state, 'asked'), unitsSeenBy(actor)))
    .orderBy(asc(amendment.madeAt));
  return rows.map(({ madeById, ...row }) => ({
    ...row,
    isMineToDecide: may(actor, 'approve an amendment') && madeById !== actor.personId,
  }));
}
