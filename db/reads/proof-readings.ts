import { and, eq, gte, inArray, sql } from 'drizzle-orm';
import type { Limits } from '@/lib/analysis/limits';
import { ambientOf } from '@/lib/analysis/normalise';
import type { Reading } from '@/lib/analysis/reading';
import { localDay } from '@/lib/calendar';
import { proofFailures } from '@/lib/stand-down/proof-failures';
import type { ProofReading } from '@/lib/stand-down/spell-facts';
import type { Db, Tx } from '../client';
import { amendment, reading, type shed } from '../schema';
import { limitsInForce } from './limits-in-force';
import { readingsOfUnits } from './readings-of-units';

export type Shed = typeof shed.$inferSelect;

/** A reading as measured, and held against the proof limits of its day. */
export interface MeasuredProof extends Omit<ProofReading, 'isClockAccepted'> {
  readonly receivedAt: Date;
  readonly measured: Reading;
}

/** Readings of each unit since an instant, oldest first. */
export async function proofReadings(
  db: Db | Tx,
  shedOfUnit: ReadonlyMap<string, Shed>,
  since: Date,
): Promise<Map<string, MeasuredProof[]>> {
  const unitIds = [...shedOfUnit.keys()];
  const taken = await db
    .select()
    .from(reading)
    .where(and(inArray(reading.unitId, unitIds), gte(reading.readAt, since)))
    .orderBy(sql`least(${reading.readAt}, ${reading.receivedAt})`, reading.entry);
  const hands = await amendersOfReadings(db, unitIds);
  const measured = await readingsOfUnits(db, unitIds);
  const limitsOn = limitsByDay(db);
  const found = new Map<string, MeasuredProof[]>(unitIds.map((id) => [id, []]));
  for (const row of taken) {
    const place = shedOfUnit.get(row.unitId);
    const values = measured.get(row.unitId)?.find(({ id }) => id === row.id);
    if (!place || !values) continue;
    const ambient = ambientOf(values.barometer, place.elevationM);
    const limits = await limitsOn(localDay(row.readAt, place.timeZone));
    found.get(row.unitId)?.push({
      readingId: row.id,
      readBy: row.technicianId,
      amendedBy: hands.get(row.id) ?? [],
      readAt: new Date(Math.min(row.readAt.getTime(), row.receivedAt.getTime())),
      receivedAt: row.receivedAt,
      clockSkew: row.clockSkewS,
      measured: values,
      ...proofFailures(values, limits, ambient),
    });
  }
  return found;
}

async function amendersOfReadings(
  db: Db | Tx,
  unitIds: readonly string[],
): Promise<Map<string, readonly string[]>> {
  const rows = await db
    .select({ readingId: amendment.readingId, madeBy: amendment.madeBy })
    .from(amendment)
    .innerJoin(reading, eq(reading.id, amendment.readingId))
    .where(and(eq(amendment.state, 'approved'), inArray(reading.unitId, [...unitIds])));
  const hands = new Map<string, string[]>();
  for (const { readingId, madeBy } of rows) {
    hands.set(readingId, [...(hands.get(readingId) ?? []), madeBy]);
  }
  return hands;
}

function limitsByDay(db: Db | Tx): (day: number) => Promise<Limits> {
  const known = new Map<number, Limits>();
  return async (day) => {
    const limits = known.get(day) ?? (await limitsInForce(db, day));
    known.set(day, limits);
    return limits;
  };
}
