import { and, asc, eq, isNotNull, sql } from 'drizzle-orm';
import type { Mark, Reason } from '@/lib/analysis/assessment';
import { markUnderBulletins } from '@/lib/analysis/mark-under-bulletins';
import type { BulletinKind } from '@/lib/bulletins/bulletin-state';
import { localDay } from '@/lib/calendar';
import type { DayNumber } from '@/lib/measure';
import { isAnyOf } from '../any-of';
import type { Db } from '../client';
import { bulletin as bulletinTable, shed, unit, verdict } from '../schema';
import { limitsInForce } from './limits-in-force';
import type { MarkChange } from './marks-under-limits';

interface UnderBulletin {
  readonly bulletin: {
    readonly number: string;
    readonly kind: BulletinKind;
    readonly dueOn: DayNumber | null;
  };
  /** Units that it would be open on. */
  readonly openOn: readonly string[];
  /** The issue that would be superseded, and the units under it. */
  readonly replaced: { readonly id: string; readonly on: readonly string[] } | null;
}

/**
 * Marks that a bulletin would change if it were in force, in order of unit: the verdicts in force with
 * its own reason added, and that of the issue it replaces taken away. Nothing is judged again.
 */
export async function marksUnderBulletin(
  db: Db,
  { bulletin, openOn, replaced }: UnderBulletin,
  now: Date,
): Promise<MarkChange[]> {
  const isDoNotDrive = bulletin.kind === 'do not drive until done';
  const isAsked = isDoNotDrive || bulletin.kind === 'mandatory';
  const open = new Set(isAsked ? openOn : []);
  const due = { ...bulletin, bulletinId: 'not entered yet', isDoNotDrive };
  const without = replaced && (await numberOf(db, replaced.id));
  const horizonOf = new Map<string, DayNumber>();
  const changes: MarkChange[] = [];
  const verdicts = await verdictsOf(db, [...open, ...(replaced?.on ?? [])], replaced !== null);
  for (const row of verdicts) {
    const horizon = horizonOf.get(row.timeZone) ?? (await horizonIn(db, row.timeZone, now));
    horizonOf.set(row.timeZone, horizon);
    const { mark, why } = markUnderBulletins({
      // Where no reason goes away, the worst one stands for all of them.
      reasons: row.reasons ?? worstOf(row),
      without,
      due: open.has(row.unitId) ? due : null,
      horizon,
    });
    if (mark !== row.mark) changes.push({ unitId: row.unitId, from: row.mark, to: mark, why });
  }
  return changes;
}

async function numberOf(db: Db, bulletinId: string): Promise<string | null> {
  const [row] = await db
    .select({ number: bulletinTable.number })
    .from(bulletinTable)
    .where(eq(bulletinTable.id, bulletinId));
  return row?.number ?? null;
}

/** What the verdict stores of its first reason beside the assessment. */
const worstOf = ({ mark, why }: { mark: Mark | null; why: string }): Reason[] =>
  mark === null ? [] : [{ rule: 'its verdict', mark, text: why, readingIds: [] }];

/**
 * Verdicts in force of units in use: one laid up, gone or not judged yet has no mark to change. Their
 * reasons lie in the assessments, which at 50,000 units take seconds to unpack.
 */
async function verdictsOf(db: Db, unitIds: readonly string[], areReasonsAsked: boolean) {
  if (unitIds.length === 0) return [];
  return db
    .select({
      unitId: verdict.unitId,
      mark: verdict.mark,
      why: verdict.why,
      reasons: areReasonsAsked
        ? sql<readonly Reason[] | null>`${verdict.assessment} -> 'reasons'`
        : sql<null>`null`,
      timeZone: shed.timeZone,
    })
    .from(verdict)
    .innerJoin(unit, eq(unit.id, verdict.unitId))
    .innerJoin(shed, eq(shed.id, unit.shedId))
    .where(
      and(eq(verdict.isCurrent, true), isNotNull(verdict.mark), isAnyOf(verdict.unitId, unitIds)),
    )
    .orderBy(asc(verdict.unitId));
}

async function horizonIn(db: Db, timeZone: string, now: Date): Promise<DayNumber> {
  const today = localDay(now, timeZone);
  return today + (await limitsInForce(db, today)).horizonDays;
}
