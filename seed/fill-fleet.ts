import { hashPassword } from 'better-auth/crypto';
import type { Db } from '@/db/client';
import { appendToLedger, sha256 } from '@/db/ledger';
import { judgeUnits } from '@/db/record/judge-unit';
import { learnFleet } from '@/db/record/learn-fleet';
import {
  account,
  fitment,
  fleetPrior,
  gauge,
  jobTemplate,
  limitSet,
  partStock,
  person,
  personShed,
  reading,
  shed,
  shedClosure,
  unit,
  workOrder,
  workTask,
} from '@/db/schema';
import { isoFromDay } from '@/lib/calendar';
import { canonicalJson } from '@/lib/ledger/canonical-json';
import type { DayNumber } from '@/lib/measure';
import { analyse, insertAll } from './fill';
import { chance } from './scenario/chance';
import { type InventedHistory, inventHistory, type ReadingRow } from './scenario/histories';
import { pastOrders } from './scenario/past-orders';
import { demoPassword, people, sheds } from './scenario/places-and-people';
import { closures, firstLimits, gauges, stock, templates } from './scenario/shop';
import { inventUnits } from './scenario/units';

const millisecondsPerDay = 86_400_000;

export interface FilledFleet {
  readonly unitCount: number;
  readonly readingCount: number;
  readonly histories: readonly InventedHistory[];
  /** The last weeks' readings of the first units: told one by one, as the bay card would send them. */
  readonly recent: readonly ReadingRow[];
}

interface Fill {
  readonly count: number;
  readonly asOf: DayNumber;
  readonly seed: number;
  readonly years: number;
}

/**
 * Years of invented history in a few large inserts, one ledger entry, and the units whose last weeks
 * are told judged as they stood before; the sweep judges the rest.
 */
export async function fillFleet(db: Db, { count, asOf, seed, years }: Fill): Promise<FilledFleet> {
  const dice = chance(seed);
  const started = new Date((asOf - (years + 1) * 365) * millisecondsPerDay);
  const units = inventUnits(dice, count, isoFromDay(asOf - years * 365));
  const histories = units.map((one) => inventHistory(dice, one, asOf));
  const live = new Set(units.slice(0, 120).map(({ id }) => id));
  const recentFrom = isoFromDay(asOf - 30);
  const isToldLive = (unitId: string, readOn: string) => live.has(unitId) && readOn >= recentFrom;
  const readings = histories
    .flatMap((history) => history.readings)
    .filter(({ unitId, readOn }) => !isToldLive(unitId, readOn))
    .sort((a, b) => a.readAt.getTime() - b.readAt.getTime());
  const fitments = histories.flatMap((history) => history.fitments);
  const orders = pastOrders(dice, histories);
  const password = await hashPassword(demoPassword);

  await db.transaction(async (tx) => {
    await tx.insert(shed).values([...sheds]);
    await tx.insert(shedClosure).values(closures(asOf));
    await tx.insert(person).values(
      people.map(({ shedIds: _, ...one }) => ({
        ...one,
        emailVerified: true,
        createdAt: started,
        roleSince: started,
      })),
    );
    await tx
      .insert(personShed)
      .values(
        people.flatMap(({ id, shedIds }) => shedIds.map((shedId) => ({ personId: id, shedId }))),
      );
    await tx.insert(account).values(
      people.map(({ id }) => ({
        id,
        accountId: id,
        providerId: 'credential',
        userId: id,
        password,
      })),
    );
    await tx.insert(gauge).values(gauges(isoFromDay(asOf + 120)));
    await tx.insert(limitSet).values({ ...firstLimits, proposedAt: started, decidedAt: started });
    await tx.insert(jobTemplate).values(templates);
    await tx.insert(partStock).values(stock);
    await insertAll(tx, unit, units);
    await insertAll(tx, workOrder, orders.orders);
    await insertAll(tx, workTask, orders.tasks);
    await insertAll(tx, fitment, fitments);
    await insertAll(
      tx,
      reading,
      readings.map((row) => ({
        ...row,
        payloadDigest: sha256(canonicalJson({ id: row.id, odometer: row.odometerKm ?? null })),
      })),
    );
    await appendToLedger(tx, {
      kind: 'demo fleet imported',
      actor: null,
      now: new Date((asOf - 30) * millisecondsPerDay),
      payload: {
        units: units.length,
        readings: readings.length,
        fitments: fitments.length,
        digest: sha256(readings.map(({ id }) => id).join('\n')),
      },
    });
  });
  await analyse(db);
  const now = new Date((asOf - 30) * millisecondsPerDay + millisecondsPerDay / 2);
  await db.transaction(async (tx) => {
    await tx.insert(fleetPrior).values(await learnFleet(tx, now));
  });
  await db.transaction((tx) =>
    judgeUnits(tx, { unitIds: [...live], actor: null, now, because: 'demo fleet imported' }),
  );
  const recent = histories
    .flatMap((history) => history.readings)
    .filter(({ unitId, readOn }) => isToldLive(unitId, readOn))
    .sort((a, b) => a.readAt.getTime() - b.readAt.getTime());
  return {
    unitCount: units.length,
    readingCount: readings.length + recent.length,
    histories,
    recent,
  };
}
