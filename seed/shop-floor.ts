import { and, asc, eq } from 'drizzle-orm';
import type { Db } from '@/db/client';
import { actorOfPerson } from '@/db/reads/actor-of-person';
import { shed, unit, verdict } from '@/db/schema';
import { certifyRepair } from '@/db/writes/certify-repair';
import { finishWorkOrder } from '@/db/writes/finish-work-order';
import { beginWorkOrder } from '@/db/writes/move-work-order';
import { raiseWorkOrder } from '@/db/writes/raise-work-order';
import { recordReading } from '@/db/writes/record-reading';
import type { Actor } from '@/lib/access';
import { ambientPressureAt, seaLevelPressure } from '@/lib/atmosphere';
import type { ReadingPayload } from '@/lib/intake/reading-payload';
import { type DayNumber, fromKilopascals, toKilopascals } from '@/lib/measure';
import type { Result } from '@/lib/result';
import type { FilledFleet } from './fill-fleet';
import { visitPayload } from './scenario/payloads';

export const at = (day: DayNumber, hour: number) => new Date(day * 86_400_000 + hour * 3_600_000);

/** The story has no refusals: one that comes is a fault of its telling. */
export function done<Value>(result: Result<Value, unknown>, what: string): Value {
  if (!result.ok) throw new Error(`${what}: ${JSON.stringify(result.error)}`);
  return result.value;
}

/** What people of the demo do again and again, through the same writes that the product uses. */
export function shopFloor(db: Db, fleet: FilledFleet) {
  const actors = new Map<string, Actor>();
  const actor = async (id: string): Promise<Actor> => {
    const known = actors.get(id) ?? (await actorOfPerson(db, id));
    if (!known) throw new Error(`nobody is called ${id}`);
    actors.set(id, known);
    return known;
  };
  const record = async (payload: ReadingPayload) =>
    done(
      await recordReading(db, {
        actor: await actor(payload.signedBy),
        payload,
        now: new Date(new Date(payload.readAt).getTime() + 60_000),
      }),
      'reading',
    );

  async function holdingUnit(shedId: string) {
    const [found] = await db
      .select({ id: unit.id, elevation: shed.elevationM, pressureUnit: shed.pressureUnit })
      .from(unit)
      .innerJoin(shed, eq(shed.id, unit.shedId))
      .innerJoin(verdict, and(eq(verdict.unitId, unit.id), eq(verdict.isCurrent, true)))
      .where(and(eq(unit.shedId, shedId), eq(verdict.mark, 'Holding')))
      .orderBy(asc(unit.id))
      .limit(1);
    if (!found) return null;
    const odometerKm =
      fleet.histories.find(({ unit: one }) => one.id === found.id)?.odometerKm ?? 0;
    /** A visit whose vacuum is given as psi of sea-level equivalent. */
    const visit = (
      by: string,
      day: DayNumber,
      hour: number,
      values: { idle: number; lowest: number; recovery: number; holdLoss: number },
      words: Partial<Pick<ReadingPayload, 'line' | 'pedal' | 'isProof'>> = {},
    ) => {
      const share = ambientPressureAt(found.elevation) / seaLevelPressure;
      const inUnit = (psi: number) =>
        fromKilopascals(toKilopascals(psi, 'psi'), found.pressureUnit);
      return visitPayload({
        unitId: found.id,
        signedBy: by,
        gaugeId: `${shedId}-1`,
        readAt: at(day, hour),
        pressureUnit: found.pressureUnit,
        idle: inUnit(values.idle * share),
        lowest: inUnit(values.lowest * share),
        recovery: values.recovery,
        holdLoss: inUnit(values.holdLoss),
        odometerKm,
        ...words,
      });
    };
    return { id: found.id, visit };
  }

  async function repair(unitId: string, by: string, day: DayNumber) {
    const technician = await actor(by);
    const order = done(
      await raiseWorkOrder(db, {
        actor: technician,
        unitId,
        why: 'Out of service: idle vacuum below the stop limit',
        raisedFrom: 'spell',
        taskKinds: ['pump', 'belt', 'proof'],
        now: at(day, 15),
      }),
      'order',
    );
    const begun = done(
      await beginWorkOrder(db, {
        actor: technician,
        orderId: order.id,
        seenVersion: order.version,
        now: at(day, 16),
      }),
      'begin',
    );
    const tasks = await db.query.workTask.findMany({
      where: (task, { eq: equals }) => equals(task.workOrderId, order.id),
    });
    done(
      await finishWorkOrder(db, {
        actor: technician,
        orderId: order.id,
        seenVersion: begun.version,
        tasks: tasks.map(({ id }) => ({ taskId: id, state: 'done', struckWhy: null })),
        fitted: [
          { part: 'pump', revision: 'C', dateCode: '2509', whyRemoved: 'failed' },
          { part: 'belt', revision: 'B5', dateCode: null, whyRemoved: 'preventive' },
        ],
        foundCause: 'pump',
        odometer: null,
        now: at(day, 19),
      }),
      'finish',
    );
    done(
      await certifyRepair(db, {
        actor: technician,
        unitId,
        kind: 'repaired',
        note: 'Pump and belt replaced, bolts torqued, line clip tugged, heat shield back.',
        now: at(day, 19.5),
      }),
      'certificate',
    );
  }

  return { actor, record, holdingUnit, repair };
}
