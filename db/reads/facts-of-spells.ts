import { and, eq, gte, inArray, isNotNull, ne } from 'drizzle-orm';
import type { Limits } from '@/lib/analysis/limits';
import type { Reading } from '@/lib/analysis/reading';
import { ambientPressureAt } from '@/lib/atmosphere';
import { localDay } from '@/lib/calendar';
import { proofFailures } from '@/lib/stand-down/proof-failures';
import type { OrderFacts, ProofReading, SpellFacts } from '@/lib/stand-down/spell-facts';
import type { Db, Tx } from '../client';
import {
  amendment,
  bulletin,
  bulletinUnit,
  reading,
  shed,
  type spell,
  unit,
  workOrder,
} from '../schema';
import { limitsInForce } from './limits-in-force';
import { readingsOfUnits } from './readings-of-units';

export type SpellRow = typeof spell.$inferSelect;

/** A reading within a spell: as measured, and as a proof. */
export interface SpellReading extends ProofReading {
  readonly measured: Reading;
}

export interface SpellOnRecord {
  readonly row: SpellRow;
  readonly facts: SpellFacts;
  readonly readings: readonly SpellReading[];
  readonly shed: typeof shed.$inferSelect;
}

/** Facts of each spell, in the order of the rows; readings held against the limits of their day. */
export async function factsOfSpells(
  db: Db | Tx,
  rows: readonly SpellRow[],
): Promise<SpellOnRecord[]> {
  if (rows.length === 0) return [];
  const unitIds = [...new Set(rows.map(({ unitId }) => unitId))];
  const earliest = new Date(Math.min(...rows.map(({ openedAt }) => openedAt.getTime())));
  const places = await db
    .select({ unitId: unit.id, shed })
    .from(unit)
    .innerJoin(shed, eq(shed.id, unit.shedId))
    .where(inArray(unit.id, unitIds));
  const orders = await db
    .select()
    .from(workOrder)
    .where(and(inArray(workOrder.unitId, unitIds), ne(workOrder.state, 'withdrawn')))
    .orderBy(workOrder.number);
  const taken = await db
    .select({
      id: reading.id,
      unitId: reading.unitId,
      readBy: reading.technicianId,
      readAt: reading.readAt,
      receivedAt: reading.receivedAt,
      clockSkew: reading.clockSkewS,
    })
    .from(reading)
    .where(and(inArray(reading.unitId, unitIds), gte(reading.readAt, earliest)))
    .orderBy(reading.readAt, reading.entry);
  const hands = await amendersOf(db, unitIds);
  const measured = await readingsOfUnits(db, unitIds);
  const bulletins = await openDoNotDriveBulletins(db, unitIds);
  const limitsOn = limitsByDay(db);

  const found: SpellOnRecord[] = [];
  for (const row of rows) {
    const place = places.find(({ unitId }) => unitId === row.unitId)?.shed;
    if (!place) throw new Error(`unit ${row.unitId} has no shed on record`);
    const ambient = ambientPressureAt(place.elevationM);
    const readings: SpellReading[] = [];
    for (const one of taken) {
      if (one.unitId !== row.unitId || one.readAt < row.openedAt) continue;
      if (row.releasedAt && one.receivedAt > row.releasedAt) continue;
      const values = measured.get(row.unitId)?.find(({ id }) => id === one.id);
      if (!values) continue;
      const limits = await limitsOn(localDay(one.readAt, place.timeZone));
      readings.push({
        readingId: one.id,
        readBy: one.readBy,
        amendedBy: hands.get(one.id) ?? [],
        readAt: one.readAt < one.receivedAt ? one.readAt : one.receivedAt,
        clockSkew: one.clockSkew,
        isClockAccepted: row.evidence.some(
          ({ readingId, acknowledgedBy }) => readingId === one.id && acknowledgedBy !== null,
        ),
        measured: values,
        ...proofFailures(values, limits, values.barometer ?? ambient),
      });
    }
    found.push({
      row,
      shed: place,
      readings,
      facts: {
        shedId: place.id,
        openedAt: row.openedAt,
        releasedAt: row.releasedAt,
        orders: orders
          .filter((order) => order.unitId === row.unitId && !wasFinishedBefore(order, row.openedAt))
          .map((order) => orderFacts(order, row)),
        certificate:
          row.certificate && row.certifiedBy && row.certifiedAt
            ? { kind: row.certificate, by: row.certifiedBy, at: row.certifiedAt }
            : null,
        readings,
        openBulletins: bulletins
          .filter(({ unitId }) => unitId === row.unitId)
          .map(({ number }) => number),
      },
    });
  }
  return found;
}

type OrderRow = typeof workOrder.$inferSelect;

const wasFinishedBefore = ({ finishedAt, state }: OrderRow, openedAt: Date): boolean =>
  (state === 'finished' || state === 'closed') && finishedAt !== null && finishedAt < openedAt;

function orderFacts(order: OrderRow, row: SpellRow): OrderFacts {
  const isRaisedForIt = order.raisedFrom === 'spell' && order.raisedAt >= row.openedAt;
  return { ...order, isForSpell: order.id === row.workOrderId || isRaisedForIt };
}

async function amendersOf(
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

function limitsByDay(db: Db | Tx): (day: number) => Promise<Limits> {
  const known = new Map<number, Limits>();
  return async (day) => {
    const limits = known.get(day) ?? (await limitsInForce(db, day));
    known.set(day, limits);
    return limits;
  };
}

/** The open spell of a unit with its facts, or null. */
export async function openSpellOfUnit(db: Db | Tx, unitId: string): Promise<SpellOnRecord | null> {
  const rows = await db.query.spell.findMany({
    where: (table, { and: both, eq: equals, isNull }) =>
      both(equals(table.unitId, unitId), isNull(table.releasedAt)),
  });
  return (await factsOfSpells(db, rows))[0] ?? null;
}
