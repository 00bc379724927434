import { and, desc, eq, gte, inArray, sql } from 'drizzle-orm';
import { alias } from 'drizzle-orm/pg-core';
import type { Actor } from '@/lib/access';
import type { Mark } from '@/lib/analysis/assessment';
import { localDay } from '@/lib/calendar';
import type { Db, Tx } from '../client';
import { ledgerEntry, person, reading, shed, spell, unit, verdict, workOrder } from '../schema';
import { type DrivenOut, drivenWhileOutOf } from './driven-while-out';
import { nameAndBadge } from './name-and-badge';
import { unitsSeenBy } from './units-seen-by';

export interface EndedSpell {
  readonly spellId: string;
  readonly unitId: string;
  readonly shedName: string;
  readonly timeZone: string;
  readonly cause: string;
  readonly why: string;
  readonly openedBy: string | null;
  readonly openedAt: Date;
  readonly tagHungAt: Date | null;
  readonly certificate: string | null;
  readonly certifiedAt: Date | null;
  readonly releasedAt: Date;
  readonly daysOut: number;
  /** What the work found, or that repair was not necessary. */
  readonly causeFound: string;
  readonly certifiedBy: string;
  readonly releasedBy: string;
  readonly isSmallShop: boolean;
  readonly markNow: Mark | null;
  readonly entry: number | null;
  readonly isProofWithdrawn: boolean;
  /** Late readings that joined it and that nobody has acknowledged yet. */
  readonly toAcknowledge: readonly string[];
  /** Each sign that somebody drove it while it was out, oldest first. */
  readonly driven: readonly DrivenOut[];
}

const opener = alias(person, 'opener');
const certifier = alias(person, 'certifier');
const releaser = alias(person, 'releaser');

/** Spells that ended at or after an instant, newest first, with what became of the unit. */
export async function spellsEndedSince(
  db: Db | Tx,
  actor: Actor,
  since: Date,
): Promise<readonly EndedSpell[]> {
  const rows = await db
    .select({
      spell,
      shedName: shed.name,
      timeZone: shed.timeZone,
      openedBy: opener.name,
      markNow: verdict.mark,
      certifiedBy: sql<string>`${nameAndBadge(certifier)}`,
      releasedBy: sql<string>`${nameAndBadge(releaser)}`,
    })
    .from(spell)
    .innerJoin(unit, eq(unit.id, spell.unitId))
    .innerJoin(shed, eq(shed.id, unit.shedId))
    .leftJoin(opener, eq(opener.id, spell.openedBy))
    .innerJoin(certifier, eq(certifier.id, spell.certifiedBy))
    .innerJoin(releaser, eq(releaser.id, spell.releasedBy))
    .leftJoin(verdict, and(eq(verdict.unitId, unit.id), eq(verdict.isCurrent, true)))
    .where(and(gte(spell.releasedAt, since), unitsSeenBy(actor)))
    .orderBy(desc(spell.releasedAt));
  if (rows.length === 0) return [];
  const unitIds = [...new Set(rows.map((row) => row.spell.unitId))];
  const entries = await db
    .select({ entry: ledgerEntry.entry, at: ledgerEntry.at, unitId: ledgerEntry.unitId })
    .from(ledgerEntry)
    .where(and(eq(ledgerEntry.kind, 'released to service'), inArray(ledgerEntry.unitId, unitIds)));
  const orders = await db
    .select()
    .from(workOrder)
    .where(and(inArray(workOrder.unitId, unitIds), gte(workOrder.finishedAt, new Date(0))));
  const withdrawn = await db
    .select({ readingId: spell.readingId })
    .from(spell)
    .innerJoin(reading, eq(reading.id, spell.readingId))
    .where(and(eq(spell.cause, 'proof withdrawn'), inArray(spell.unitId, unitIds)));
  const driven = await drivenWhileOutOf(
    db,
    rows.map(({ spell: row }) => row),
  );
  return rows.flatMap(({ spell: row, shedName, timeZone, markNow, openedBy, ...names }) => {
    const { releasedAt } = row;
    if (!releasedAt) return [];
    const order = orders.findLast(
      ({ unitId, finishedAt }) =>
        unitId === row.unitId &&
        finishedAt !== null &&
        finishedAt >= row.openedAt &&
        finishedAt <= releasedAt,
    );
    return [
      {
        spellId: row.id,
        unitId: row.unitId,
        shedName,
        timeZone,
        cause: row.cause,
        why: row.why,
        openedBy,
        openedAt: row.openedAt,
        tagHungAt: row.tagHungAt,
        certificate: row.certificate,
        certifiedAt: row.certifiedAt,
        releasedAt,
        daysOut: localDay(releasedAt, timeZone) - localDay(row.openedAt, timeZone),
        causeFound:
          row.certificate === 'repair not necessary'
            ? `Repair not necessary: ${row.certifiedNote}`
            : (order?.foundCause ?? row.cause),
        ...names,
        isSmallShop: row.isSmallShop,
        markNow,
        entry:
          entries.find(
            ({ unitId, at }) => unitId === row.unitId && at.getTime() === releasedAt.getTime(),
          )?.entry ?? null,
        isProofWithdrawn: withdrawn.some(({ readingId }) => readingId === row.proofReadingId),
        toAcknowledge: row.evidence
          .filter(({ acknowledgedBy }) => acknowledgedBy === null)
          .map(({ readingId }) => readingId),
        driven: driven.get(row.id) ?? [],
      },
    ];
  });
}
