import { and, asc, eq, gte, isNotNull, lte } from 'drizzle-orm';
import { z } from 'zod';
import type { Kilometres } from '@/lib/measure';
import { drivenWhileOut } from '@/lib/stand-down/driven-while-out';
import type { Db, Tx } from '../client';
import { amendment, reading, workOrder } from '../schema';
import { notedInSpells } from './driven-while-out';
import type { SpellRow } from './facts-of-spells';

export const openingDayMs = 86_400_000;

const odometerSeen = z.object({
  spellId: z.string(),
  odometerKm: z.number(),
  seenOn: z.string(),
});

interface Sighting {
  readonly odometer: Kilometres;
  readonly at: Date;
}

export interface OdometersOfSpell {
  /**
   * Read within a day before it went out, or else the first seen after: what it did before that day
   * was its work.
   */
  readonly opening: Kilometres | null;
  readonly newest: Kilometres | null;
  readonly roadTests: number;
}

/** Odometers that a spell is judged by, amendments applied. */
export async function odometersOfSpell(db: Db | Tx, spell: SpellRow): Promise<OdometersOfSpell> {
  const { openedAt } = spell;
  const keyed = await notedInSpells(db, 'odometer seen', odometerSeen, [spell]);
  const read = await odometersRead(db, spell);
  const before = read.filter(({ at }) => at <= openedAt).at(-1);
  const since = [
    ...read.filter(({ at }) => at > openedAt),
    ...(await odometersWorked(db, spell)),
    ...keyed.map(({ odometerKm, at }) => ({ odometer: odometerKm, at })),
  ].sort((a, b) => Number(a.at) - Number(b.at));
  return {
    opening: (before ?? since[0])?.odometer ?? null,
    newest: since.at(-1)?.odometer ?? null,
    roadTests: keyed.filter(({ seenOn }) => seenOn === 'road test').length,
  };
}

/** How far an odometer shows that the unit went in its spell; null within its road tests. */
export const drivenTo = (
  { opening, roadTests }: OdometersOfSpell,
  odometer: Kilometres | null,
): Kilometres | null => drivenWhileOut(opening, odometer, roadTests);

async function odometersRead(
  db: Db | Tx,
  { unitId, openedAt, releasedAt }: SpellRow,
): Promise<Sighting[]> {
  const inSpan = and(
    eq(reading.unitId, unitId),
    gte(reading.readAt, new Date(openedAt.getTime() - openingDayMs)),
    releasedAt ? lte(reading.readAt, releasedAt) : undefined,
  );
  const rows = await db
    .select({ id: reading.id, odometer: reading.odometerKm, at: reading.readAt })
    .from(reading)
    .where(inSpan)
    .orderBy(asc(reading.readAt), asc(reading.entry));
  const changes = await db
    .select({ readingId: amendment.readingId, after: amendment.after })
    .from(amendment)
    .innerJoin(reading, eq(reading.id, amendment.readingId))
    .where(and(eq(amendment.state, 'approved'), inSpan))
    .orderBy(asc(amendment.decidedAt));
  return rows.flatMap(({ id, odometer: keyed, at }) => {
    const amended = changes.findLast(
      ({ readingId, after }) => readingId === id && after.odometerKm !== undefined,
    );
    const odometer = amended?.after.odometerKm ?? keyed;
    return odometer === null ? [] : [{ odometer, at }];
  });
}

async function odometersWorked(
  db: Db | Tx,
  { unitId, openedAt, releasedAt }: SpellRow,
): Promise<Sighting[]> {
  const rows = await db
    .select({ odometer: workOrder.finishedOdometerKm, at: workOrder.finishedAt })
    .from(workOrder)
    .where(
      and(
        eq(workOrder.unitId, unitId),
        isNotNull(workOrder.finishedOdometerKm),
        gte(workOrder.finishedAt, openedAt),
        releasedAt ? lte(workOrder.finishedAt, releasedAt) : undefined,
      ),
    );
  return rows.flatMap(({ odometer, at }) =>
    odometer === null || at === null ? [] : [{ odometer, at }],
  );
}
