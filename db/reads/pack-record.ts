import { and, asc, eq, gte, inArray, isNull, lt, or } from 'drizzle-orm';
import { alias } from 'drizzle-orm/pg-core';
import type { PackBulletin, PackOrder, PackSpell } from '@/lib/outflow/pack/pack-facts';
import type { Tx } from '../client';
import {
  bulletin,
  bulletinUnit,
  fitment,
  person,
  reading,
  spell,
  workOrder,
  workTask,
} from '../schema';
import { nameAndBadge } from './name-and-badge';
import { mostRows, type PackSpan } from './pack-span';

const proof = alias(reading, 'proof');
const by = {
  opened: alias(person, 'opened_by_person'),
  tag: alias(person, 'tag_hung_by_person'),
  certified: alias(person, 'certified_by_person'),
  read: alias(person, 'proof_read_by_person'),
  released: alias(person, 'released_by_person'),
  raised: alias(person, 'raised_by_person'),
  finished: alias(person, 'finished_by_person'),
};

/** Spells, work and bulletins of a pack, oldest first: all that lay within the span in part. */
export async function packRecord(tx: Tx, span: PackSpan) {
  return {
    spells: await spellsOf(tx, span),
    orders: await ordersOf(tx, span),
    bulletins: await bulletinsOf(tx, span),
  };
}

async function spellsOf(tx: Tx, { unitId, from, until }: PackSpan): Promise<PackSpell[]> {
  const rows = await tx
    .select({
      row: spell,
      openedBy: nameAndBadge(by.opened),
      readingEntry: reading.entry,
      bulletin: bulletin.number,
      tagHungBy: nameAndBadge(by.tag),
      certifiedBy: nameAndBadge(by.certified),
      proofEntry: proof.entry,
      proofReadBy: nameAndBadge(by.read),
      releasedBy: nameAndBadge(by.released),
    })
    .from(spell)
    .leftJoin(by.opened, eq(by.opened.id, spell.openedBy))
    .leftJoin(reading, eq(reading.id, spell.readingId))
    .leftJoin(bulletin, eq(bulletin.id, spell.bulletinId))
    .leftJoin(by.tag, eq(by.tag.id, spell.tagHungBy))
    .leftJoin(by.certified, eq(by.certified.id, spell.certifiedBy))
    .leftJoin(proof, eq(proof.id, spell.proofReadingId))
    .leftJoin(by.read, eq(by.read.id, spell.proofReadBy))
    .leftJoin(by.released, eq(by.released.id, spell.releasedBy))
    .where(
      and(
        unitId === null ? undefined : eq(spell.unitId, unitId),
        lt(spell.openedAt, until),
        or(isNull(spell.releasedAt), gte(spell.releasedAt, from)),
      ),
    )
    .orderBy(asc(spell.openedAt), asc(spell.unitId))
    .limit(mostRows + 1);
  return rows.map(({ row, openedBy, ...joined }) => ({
    ...row,
    ...joined,
    openedBy: openedBy ?? 'the program',
  }));
}

async function ordersOf(tx: Tx, { unitId, from, until }: PackSpan): Promise<PackOrder[]> {
  const rows = await tx
    .select({
      row: workOrder,
      raisedBy: nameAndBadge(by.raised),
      finishedBy: nameAndBadge(by.finished),
    })
    .from(workOrder)
    .leftJoin(by.raised, eq(by.raised.id, workOrder.raisedBy))
    .leftJoin(by.finished, eq(by.finished.id, workOrder.finishedBy))
    .where(
      and(
        unitId === null ? undefined : eq(workOrder.unitId, unitId),
        lt(workOrder.raisedAt, until),
        or(isNull(workOrder.closedAt), gte(workOrder.closedAt, from)),
      ),
    )
    .orderBy(asc(workOrder.number))
    .limit(mostRows + 1);
  if (rows.length === 0) return [];
  const ids = rows.map(({ row }) => row.id);
  const tasks = await tx
    .select()
    .from(workTask)
    .where(inArray(workTask.workOrderId, ids))
    .orderBy(asc(workTask.position));
  const fitted = await tx.select().from(fitment).where(inArray(fitment.workOrderId, ids));
  return rows.map(({ row, raisedBy, finishedBy }) => ({
    ...row,
    raisedBy,
    finishedBy,
    odometer: row.finishedOdometerKm,
    tasks: tasks.filter(({ workOrderId }) => workOrderId === row.id),
    fitted: fitted.filter(({ workOrderId }) => workOrderId === row.id),
  }));
}

/** Bulletins whose status on a unit was set within the span. */
function bulletinsOf(tx: Tx, { unitId, from, until }: PackSpan): Promise<PackBulletin[]> {
  return tx
    .select({
      unitId: bulletinUnit.unitId,
      number: bulletin.number,
      issue: bulletin.issue,
      title: bulletin.title,
      kind: bulletin.kind,
      applicability: bulletinUnit.applicability,
      why: bulletinUnit.why,
      status: bulletinUnit.status,
      statusBy: nameAndBadge(person),
      statusAt: bulletinUnit.statusAt,
      statusReason: bulletinUnit.statusReason,
    })
    .from(bulletinUnit)
    .innerJoin(bulletin, eq(bulletin.id, bulletinUnit.bulletinId))
    .leftJoin(person, eq(person.id, bulletinUnit.statusBy))
    .where(
      and(
        unitId === null ? undefined : eq(bulletinUnit.unitId, unitId),
        gte(bulletinUnit.statusAt, from),
        lt(bulletinUnit.statusAt, until),
      ),
    )
    .orderBy(asc(bulletinUnit.unitId), asc(bulletin.number))
    .limit(mostRows + 1);
}
