import { and, asc, desc, eq, inArray, isNotNull, or } from 'drizzle-orm';
import type { BulletinDue } from '@/lib/analysis/unit-assessment';
import { dayFromIso, localDay } from '@/lib/calendar';
import type { DayNumber } from '@/lib/measure';
import type { Db, Tx } from '../client';
import { bulletin, bulletinUnit, shed, spell, unit, workOrder, workTask } from '../schema';

/** What the record knows of a unit beside its readings and parts. */
export interface Standing {
  readonly openSpell: {
    readonly spellId: string;
    readonly why: string;
    readonly openedOn: DayNumber;
  } | null;
  readonly releasedOn: DayNumber | null;
  readonly proofReadingIds: readonly string[];
  readonly vacuumOrderClosedOn: DayNumber | null;
  readonly bulletinsDue: readonly BulletinDue[];
}

const vacuumTasks = ['pump', 'booster and line', 'line', 'check valve', 'leak search'] as const;

/** Standing of each unit, days in the zone of its shed. */
export async function standingOfUnits(
  db: Db | Tx,
  unitIds: readonly string[],
): Promise<Map<string, Standing>> {
  const ids = [...unitIds];
  const standing = new Map<string, Standing>();
  if (ids.length === 0) return standing;
  const zones = await db
    .select({ unitId: unit.id, timeZone: shed.timeZone })
    .from(unit)
    .innerJoin(shed, eq(shed.id, unit.shedId))
    .where(inArray(unit.id, ids));
  const spells = await db
    .select()
    .from(spell)
    .where(inArray(spell.unitId, ids))
    .orderBy(desc(spell.openedAt));
  const closed = await db
    .selectDistinct({ unitId: workOrder.unitId, closedAt: workOrder.closedAt })
    .from(workOrder)
    .innerJoin(workTask, eq(workTask.workOrderId, workOrder.id))
    .where(
      and(
        inArray(workOrder.unitId, ids),
        isNotNull(workOrder.closedAt),
        eq(workTask.state, 'done'),
        inArray(workTask.kind, [...vacuumTasks]),
      ),
    );
  const due = await bulletinsDueOn(db, ids);
  for (const { unitId, timeZone } of zones) {
    const own = spells.filter((row) => row.unitId === unitId);
    const open = own.find((row) => row.releasedAt === null);
    const last = own.find((row) => row.releasedAt !== null);
    const closings = closed
      .filter((row) => row.unitId === unitId && row.closedAt !== null)
      .map((row) => localDay(row.closedAt ?? new Date(0), timeZone));
    standing.set(unitId, {
      openSpell: open
        ? { spellId: open.id, why: open.why, openedOn: localDay(open.openedAt, timeZone) }
        : null,
      releasedOn: last?.releasedAt ? localDay(last.releasedAt, timeZone) : null,
      proofReadingIds: own.flatMap(({ proofReadingId }) => proofReadingId ?? []),
      vacuumOrderClosedOn: closings.length > 0 ? Math.max(...closings) : null,
      bulletinsDue: due.get(unitId) ?? [],
    });
  }
  return standing;
}

/** Bulletins that each unit owes: mandatory ones, and approved ones not to drive under. */
export async function bulletinsDueOn(
  db: Db | Tx,
  unitIds: readonly string[],
): Promise<Map<string, BulletinDue[]>> {
  const rows = await db
    .select({
      unitId: bulletinUnit.unitId,
      bulletinId: bulletin.id,
      number: bulletin.number,
      dueOn: bulletin.dueOn,
      kind: bulletin.kind,
    })
    .from(bulletinUnit)
    .innerJoin(bulletin, eq(bulletin.id, bulletinUnit.bulletinId))
    .where(
      and(
        inArray(bulletinUnit.unitId, [...unitIds]),
        inArray(bulletinUnit.status, ['open', 'planned']),
        or(
          eq(bulletin.kind, 'mandatory'),
          and(eq(bulletin.kind, 'do not drive until done'), isNotNull(bulletin.approvedBy)),
        ),
      ),
    )
    .orderBy(asc(bulletin.number), asc(bulletin.issue));
  const byUnit = new Map<string, BulletinDue[]>();
  for (const { unitId, dueOn, kind, ...row } of rows) {
    const due = {
      ...row,
      dueOn: dueOn === null ? null : dayFromIso(dueOn),
      isDoNotDrive: kind === 'do not drive until done',
    };
    const before = byUnit.get(unitId);
    if (before) before.push(due);
    else byUnit.set(unitId, [due]);
  }
  return byUnit;
}
