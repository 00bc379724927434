import { and, eq, inArray, isNotNull, isNull, ne } from 'drizzle-orm';
import type { OrderFacts, SpellFacts } from '@/lib/stand-down/spell-facts';
import type { Db, Tx } from '../client';
import { bulletin, bulletinUnit, shed, spell, unit, workOrder } from '../schema';
import { type MeasuredProof, proofReadings, type Shed } from './proof-readings';

export type SpellRow = typeof spell.$inferSelect;

export interface SpellOnRecord {
  readonly row: SpellRow;
  readonly shed: Shed;
  readonly facts: Omit<SpellFacts, 'readings'> & { readonly readings: readonly SpellReading[] };
}

export type SpellReading = SpellFacts['readings'][number] & MeasuredProof;

/** Facts of each spell, in the order of the rows. */
export async function factsOfSpells(
  db: Db | Tx,
  rows: readonly SpellRow[],
): Promise<SpellOnRecord[]> {
  if (rows.length === 0) return [];
  const unitIds = [...new Set(rows.map(({ unitId }) => unitId))];
  const places = await db
    .select({ unitId: unit.id, shed })
    .from(unit)
    .innerJoin(shed, eq(shed.id, unit.shedId))
    .where(inArray(unit.id, unitIds));
  const shedOfUnit = new Map(places.map((place) => [place.unitId, place.shed]));
  const earliest = new Date(Math.min(...rows.map(({ openedAt }) => openedAt.getTime())));
  const readings = await proofReadings(db, shedOfUnit, earliest);
  const orders = await db
    .select()
    .from(workOrder)
    .where(and(inArray(workOrder.unitId, unitIds), ne(workOrder.state, 'withdrawn')))
    .orderBy(workOrder.number);
  const bulletins = await openDoNotDriveBulletins(db, unitIds);
  return rows.flatMap((row) => {
    const place = shedOfUnit.get(row.unitId);
    if (!place) return [];
    const facts = {
      shedId: place.id,
      openedAt: row.openedAt,
      releasedAt: row.releasedAt,
      orders: orders
        .filter((order) => order.unitId === row.unitId && !wasFinishedBefore(order, row.openedAt))
        .map((order) => orderFacts(order, row)),
      certificate: certificateOf(row),
      readings: (readings.get(row.unitId) ?? []).flatMap((one) => readingWithin(one, row)),
      openBulletins: bulletins
        .filter(({ unitId }) => unitId === row.unitId)
        .map(({ number }) => number),
    };
    return [{ row, shed: place, facts }];
  });
}

/** The open spell of a unit with its facts, or null. */
export async function openSpellOfUnit(db: Db | Tx, unitId: string): Promise<SpellOnRecord | null> {
  const rows = await db
    .select()
    .from(spell)
    .where(and(eq(spell.unitId, unitId), isNull(spell.releasedAt)));
  return (await factsOfSpells(db, rows))[0] ?? null;
}

type OrderRow = typeof workOrder.$inferSelect;

const wasFinishedBefore = ({ finishedAt, state }: OrderRow, openedAt: Date): boolean =>
  (state === 'finished' || state === 'closed') && finishedAt !== null && finishedAt < openedAt;

function orderFacts(order: OrderRow, row: SpellRow): OrderFacts {
  const isRaisedForIt = order.raisedFrom === 'spell' && order.raisedAt >= row.openedAt;
  return { ...order, isForSpell: order.id === row.workOrderId || isRaisedForIt };
}

function certificateOf({ certificate, certifiedBy, certifiedAt }: SpellRow) {
  if (!certificate || !certifiedBy || !certifiedAt) return null;
  return { kind: certificate, by: certifiedBy, at: certifiedAt };
}

function readingWithin(one: MeasuredProof, row: SpellRow): SpellReading[] {
  if (one.readAt < row.openedAt) return [];
  if (row.releasedAt && one.receivedAt > row.releasedAt) return [];
  const isClockAccepted = row.evidence.some(
    ({ readingId, acknowledgedBy }) => readingId === one.readingId && acknowledgedBy !== null,
  );
  return [{ ...one, isClockAccepted }];
}

function openDoNotDriveBulletins(db: Db | Tx, unitIds: readonly string[]) {
  return db
    .select({ unitId: bulletinUnit.unitId, number: bulletin.number })
    .from(bulletinUnit)
    .innerJoin(bulletin, eq(bulletin.id, bulletinUnit.bulletinId))
    .where(
      and(
        inArray(bulletinUnit.unitId, [...unitIds]),
        inArray(bulletinUnit.status, ['open', 'planned']),
        eq(bulletin.kind, 'do not drive until done'),
        isNotNull(bulletin.approvedBy),
      ),
    );
}
