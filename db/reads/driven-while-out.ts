import { and, desc, eq, isNotNull, lte } from 'drizzle-orm';
import type { Kilometres } from '@/lib/measure';
import { drivenWhileOut } from '@/lib/stand-down/driven-while-out';
import type { Db, Tx } from '../client';
import { reading } from '../schema';
import type { SpellRow } from './facts-of-spells';

/** How far the unit went since its spell opened, by an odometer seen since; null within one road test. */
export async function drivenSince(
  db: Db | Tx,
  { unitId, openedAt }: SpellRow,
  odometer: Kilometres | null,
): Promise<Kilometres | null> {
  const [opening] = await db
    .select({ odometerKm: reading.odometerKm })
    .from(reading)
    .where(
      and(eq(reading.unitId, unitId), isNotNull(reading.odometerKm), lte(reading.readAt, openedAt)),
    )
    .orderBy(desc(reading.readAt), desc(reading.entry))
    .limit(1);
  return drivenWhileOut(opening?.odometerKm ?? null, odometer);
}
