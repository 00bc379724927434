import { eq } from 'drizzle-orm';
import { type Actor, may } from '@/lib/access';
import type { Reading } from '@/lib/analysis/reading';
import type { Db, Tx } from '../client';
import { reading, shed } from '../schema';
import { readingsOfUnits } from './readings-of-units';

export interface ReadingToAmend {
  readonly unitId: string;
  readonly timeZone: string;
  readonly readAt: Date;
  readonly receivedAt: Date;
  readonly signedBy: string | null;
  /** Approved amendments applied. */
  readonly values: Reading;
}

/** One reading that the actor may amend by role and shed; null when there is none. */
export async function bayReading(
  db: Db | Tx,
  actor: Actor,
  readingId: string,
): Promise<ReadingToAmend | null> {
  const [row] = await db
    .select({ reading, timeZone: shed.timeZone })
    .from(reading)
    .innerJoin(shed, eq(shed.id, reading.shedId))
    .where(eq(reading.id, readingId));
  if (!row || !may(actor, 'amend a reading', row.reading.shedId)) return null;
  const { unitId, readAt, receivedAt, technicianId } = row.reading;
  const values = (await readingsOfUnits(db, [unitId]))
    .get(unitId)
    ?.find(({ id }) => id === readingId);
  return values
    ? { unitId, timeZone: row.timeZone, readAt, receivedAt, signedBy: technicianId, values }
    : null;
}
