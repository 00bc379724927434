import { and, asc, eq, inArray, isNotNull, isNull, lt, or, sql } from 'drizzle-orm';
import { isoFromDay, localDay } from '@/lib/calendar';
import type { Db, Tx } from '../client';
import { fleetPrior, judgingDue, shed, unit, verdict } from '../schema';
import { judgeBulletinMarks } from './judge-bulletin-marks';
import { judgeUnits } from './judge-unit';
import { learnFleet } from './learn-fleet';
import { sweepBulletins } from './sweep-bulletins';

export const sweepLock = 74_120_313;
const unitsAtATime = 200;
const relearnAfterMs = 20 * 3_600_000;

export interface SweepOptions {
  /** Learns the prior too, unless that was done within 20 hours: seconds of work, for the night. */
  readonly learns: boolean;
  /** Waits while another instance is at it, since that one may be past the units meant; else leaves it be. */
  readonly waits?: boolean;
}

export interface Swept {
  readonly judged: number;
  readonly hasLearnt: boolean;
}

/**
 * Judges every unit whose verdict is of an earlier day of its shed, since time alone turns Holding into
 * Unread, and every unit that an import or a bulletin touched. Several instances may call it at once; the
 * lock lets one work and the others find it done.
 */
export async function sweepFleet(
  db: Db,
  now: Date,
  { learns, waits = false }: SweepOptions,
): Promise<Swept> {
  const hasLearnt = learns && (await learnOnceANight(db, now));
  let judged = 0;
  let after = '';
  for (;;) {
    const count = await db.transaction(async (tx) => {
      if (waits) await tx.execute(sql`select pg_advisory_xact_lock(${sweepLock})`);
      else if (!(await takeLock(tx))) return 0;
      const stale = await tx
        .select({
          id: unit.id,
          asOf: verdict.asOf,
          timeZone: shed.timeZone,
          dueSince: judgingDue.since,
          touched: judgingDue.touched,
          isCorrection: judgingDue.isCorrection,
        })
        .from(unit)
        .innerJoin(shed, eq(shed.id, unit.shedId))
        .leftJoin(verdict, and(eq(verdict.unitId, unit.id), eq(verdict.isCurrent, true)))
        .leftJoin(judgingDue, eq(judgingDue.unitId, unit.id))
        .where(
          and(
            sql`${unit.id} > ${after}`,
            or(
              isNull(verdict.asOf),
              isNotNull(judgingDue.since),
              lt(verdict.asOf, isoFromDay(localDay(now, 'UTC') + 1)),
            ),
          ),
        )
        .orderBy(asc(unit.id))
        .limit(unitsAtATime)
        .for('no key update', { of: unit });
      after = stale.at(-1)?.id ?? after;
      const due = stale.filter(
        ({ asOf, timeZone, dueSince }) =>
          dueSince !== null || asOf === null || asOf < isoFromDay(localDay(now, timeZone)),
      );
      if (due.length > 0) {
        const unitIds = due.map(({ id }) => id);
        // First: an import that commits from here on leaves its mark again.
        await tx.delete(judgingDue).where(inArray(judgingDue.unitId, unitIds));
        await sweepBulletins(tx, due, now);
        const judge = { actor: null, now, because: 'sweep' };
        const idsOf = (isMarkAlone: boolean) =>
          due.filter((one) => (one.touched === 'nothing') === isMarkAlone).map(({ id }) => id);
        await judgeUnits(tx, { ...judge, unitIds: idsOf(false) });
        await judgeBulletinMarks(tx, { ...judge, unitIds: idsOf(true) });
      }
      judged += due.length;
      return stale.length;
    });
    if (count < unitsAtATime) return { judged, hasLearnt };
  }
}

/** Held to the end of the transaction; false where another instance holds it. */
async function takeLock(tx: Tx): Promise<boolean> {
  const [row] = await tx
    .select({ taken: sql<boolean>`pg_try_advisory_xact_lock(${sweepLock})` })
    .from(sql`(select 1) as one`);
  return row?.taken ?? false;
}

/** Learns the prior unless that was done within 20 hours, or another instance is at it. */
export async function learnOnceANight(db: Db, now: Date): Promise<boolean> {
  return db.transaction(async (tx) => {
    if (!(await takeLock(tx))) return false;
    const [last] = await tx
      .select({ learntAt: fleetPrior.learntAt })
      .from(fleetPrior)
      .orderBy(sql`${fleetPrior.id} desc`)
      .limit(1);
    if (last && now.getTime() - last.learntAt.getTime() < relearnAfterMs) return false;
    const [any] = await tx.select({ id: unit.id }).from(unit).limit(1);
    if (!any) return false;
    await tx.insert(fleetPrior).values(await learnFleet(tx, now));
    return true;
  });
}
