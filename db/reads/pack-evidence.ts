import { and, asc, eq, gte, inArray, lt, sql } from 'drizzle-orm';
import { alias } from 'drizzle-orm/pg-core';
import { defaultLimits } from '@/lib/analysis/limits';
import type {
  PackAmendment,
  PackLimits,
  PackReading,
  PackVerdict,
} from '@/lib/outflow/pack/pack-facts';
import type { Tx } from '../client';
import { amendment, limitSet, person, reading, verdict } from '../schema';
import { nameAndBadge } from './name-and-badge';
import { mostRows, type PackSpan } from './pack-span';

const maker = alias(person, 'maker');
const decider = alias(person, 'decider');

/** Readings, amendments, verdicts and limits of a pack, oldest first. */
export async function packEvidence(tx: Tx, span: PackSpan) {
  const verdicts = await verdictsOf(tx, span);
  return {
    readings: await readingsOf(tx, span),
    amendments: await amendmentsOf(tx, span),
    verdicts,
    limits: await limitsOf(tx, [...new Set(verdicts.map(({ limitsVersion }) => limitsVersion))]),
  };
}

const ofUnit = (column: typeof reading.unitId | typeof verdict.unitId, unitId: string | null) =>
  unitId === null ? undefined : eq(column, unitId);

async function readingsOf(tx: Tx, { unitId, from, until }: PackSpan): Promise<PackReading[]> {
  const rows = await tx
    .select({ row: reading, by: nameAndBadge(person) })
    .from(reading)
    .leftJoin(person, eq(person.id, reading.technicianId))
    .where(
      and(ofUnit(reading.unitId, unitId), gte(reading.readAt, from), lt(reading.readAt, until)),
    )
    .orderBy(asc(reading.readAt), asc(reading.entry))
    .limit(mostRows + 1);
  return rows.map(({ row, by }) => ({
    unitId: row.unitId,
    entry: row.entry,
    readAt: row.readAt,
    receivedAt: row.receivedAt,
    by: by ?? row.technicianLabel ?? '',
    gauge: row.gaugeId,
    idle: row.idleVacuumKpa,
    raised: row.raisedVacuumKpa,
    lowest: row.lowestKpa,
    recovery: row.recoveryS,
    holdLoss: row.holdLossKpa,
    holdTime: row.holdTimeS,
    line: row.line,
    pedal: row.pedal,
    belt: row.belt,
    odometer: row.odometerKm,
    couldNot: row.couldNot,
    isProof: row.isProof,
  }));
}

/** Those made or decided within the span. */
async function amendmentsOf(tx: Tx, { unitId, from, until }: PackSpan): Promise<PackAmendment[]> {
  const within = (at: typeof amendment.madeAt | typeof amendment.decidedAt) =>
    and(gte(at, from), lt(at, until));
  return tx
    .select({
      unitId: reading.unitId,
      readingEntry: reading.entry,
      before: amendment.before,
      after: amendment.after,
      reason: amendment.reason,
      state: amendment.state,
      madeBy: sql<string>`${nameAndBadge(maker)}`,
      madeAt: amendment.madeAt,
      decidedBy: nameAndBadge(decider),
      decidedAt: amendment.decidedAt,
    })
    .from(amendment)
    .innerJoin(reading, eq(reading.id, amendment.readingId))
    .innerJoin(maker, eq(maker.id, amendment.madeBy))
    .leftJoin(decider, eq(decider.id, amendment.decidedBy))
    .where(
      and(
        ofUnit(reading.unitId, unitId),
        sql`(${within(amendment.madeAt)} or ${within(amendment.decidedAt)})`,
      ),
    )
    .orderBy(asc(amendment.madeAt))
    .limit(mostRows + 1);
}

/** A verdict that only repeats the one before it, as each night's does, is left out. */
async function verdictsOf(tx: Tx, { unitId, from, until }: PackSpan): Promise<PackVerdict[]> {
  const said = sql`(${verdict.mark}, ${verdict.latestReadOn}, ${verdict.limitsVersion}, ${verdict.methodVersion})`;
  const judged = tx
    .select({
      unitId: verdict.unitId,
      judgedAt: verdict.judgedAt,
      mark: verdict.mark,
      why: verdict.why,
      limitsVersion: verdict.limitsVersion,
      methodVersion: verdict.methodVersion,
      knownTo: verdict.knownTo,
      isNew: sql<boolean>`${said}::text is distinct from
        lag(${said}::text) over (partition by ${verdict.unitId} order by ${verdict.judgedAt})`.as(
        'is_new',
      ),
    })
    .from(verdict)
    .where(and(ofUnit(verdict.unitId, unitId), lt(verdict.judgedAt, until)))
    .as('judged');
  return tx
    .select({
      unitId: judged.unitId,
      judgedAt: judged.judgedAt,
      mark: judged.mark,
      why: judged.why,
      limitsVersion: judged.limitsVersion,
      methodVersion: judged.methodVersion,
      knownTo: judged.knownTo,
    })
    .from(judged)
    .where(and(judged.isNew, gte(judged.judgedAt, from)))
    .orderBy(asc(judged.judgedAt), asc(judged.unitId))
    .limit(mostRows + 1);
}

async function limitsOf(tx: Tx, versions: readonly number[]): Promise<PackLimits[]> {
  if (versions.length === 0) return [];
  const rows = await tx
    .select({
      version: limitSet.version,
      values: limitSet.values,
      effectiveFrom: limitSet.effectiveFrom,
      source: limitSet.source,
      reason: limitSet.reason,
      proposedBy: nameAndBadge(maker),
      decidedBy: nameAndBadge(decider),
    })
    .from(limitSet)
    .leftJoin(maker, eq(maker.id, limitSet.proposedBy))
    .leftJoin(decider, eq(decider.id, limitSet.decidedBy))
    .where(inArray(limitSet.version, [...versions]))
    .orderBy(asc(limitSet.version));
  return rows.map((row) => ({ ...row, values: { ...defaultLimits, ...row.values } }));
}
