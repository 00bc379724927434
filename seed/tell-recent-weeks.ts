import { and, asc, eq } from 'drizzle-orm';
import type { Db } from '@/db/client';
import { actorOfPerson } from '@/db/reads/actor-of-person';
import { shed, unit, verdict } from '@/db/schema';
import { certifyRepair } from '@/db/writes/certify-repair';
import { enterBulletin } from '@/db/writes/enter-bulletin';
import { finishWorkOrder } from '@/db/writes/finish-work-order';
import { hangTag } from '@/db/writes/hang-tag';
import { beginWorkOrder, letWorkOrderWait, placeWorkOrder } from '@/db/writes/move-work-order';
import { raiseWorkOrder } from '@/db/writes/raise-work-order';
import { recordReading } from '@/db/writes/record-reading';
import { releaseUnit } from '@/db/writes/release-unit';
import { standDown } from '@/db/writes/stand-down';
import type { Actor } from '@/lib/access';
import { ambientPressureAt, seaLevelPressure } from '@/lib/atmosphere';
import { isoWeekOf } from '@/lib/calendar';
import type { ReadingPayload } from '@/lib/intake/reading-payload';
import { type DayNumber, fromKilopascals } from '@/lib/measure';
import type { Result } from '@/lib/result';
import type { FilledFleet } from './fill-fleet';
import { bulletins } from './scenario/bulletins';
import { readingPayloadOf, visitPayload } from './scenario/payloads';

const at = (day: DayNumber, hour: number) => new Date(day * 86_400_000 + hour * 3_600_000);

function done<Value>(result: Result<Value, unknown>, what: string): Value {
  if (!result.ok) throw new Error(`${what}: ${JSON.stringify(result.error)}`);
  return result.value;
}

/** psi of sea-level equivalent, and seconds, of a pump that fails and of a new one. */
const failing = { idle: 6.1, lowest: 3.2, recovery: 24, holdLoss: 0.2 };
const proving = { idle: 13.3, lowest: 11.1, recovery: 6.1, holdLoss: 0.1 };

interface Recent {
  readonly asOf: DayNumber;
  readonly fleet: FilledFleet;
}

/** The last weeks as people lived them, through the same writes that the product uses. */
export async function tellRecentWeeks(db: Db, { asOf, fleet }: Recent): Promise<void> {
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

  for (const draft of bulletins(asOf)) {
    done(
      await enterBulletin(db, { actor: await actor('ines'), draft, now: at(asOf - 29, 12) }),
      draft.number,
    );
  }
  for (const row of fleet.recent) await record(readingPayloadOf(row));
  await releasedUnit();
  await unitThatWaitsForRelease();
  await unitThatWaitsForAPart();
  await unitStoodDownByHand();
  await planTheFirstJobs();

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
      const inUnit = (psi: number) => fromKilopascals(psi * 6.894757, found.pressureUnit);
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

  async function releasedUnit() {
    const one = await holdingUnit('ridge');
    if (!one) return;
    await record(one.visit('jory', asOf - 20, 16, failing, { pedal: 'went hard' }));
    done(
      await hangTag(db, { actor: await actor('jory'), unitId: one.id, now: at(asOf - 20, 17) }),
      'tag',
    );
    await repair(one.id, 'ode', asOf - 18);
    await record(one.visit('jory', asOf - 18, 21, proving, { isProof: true }));
    const open = await db.query.spell.findFirst({
      where: (row, { and: both, eq: equals, isNull }) =>
        both(equals(row.unitId, one.id), isNull(row.releasedAt)),
    });
    done(
      await releaseUnit(db, {
        actor: await actor('rhea'),
        unitId: one.id,
        spellId: open?.id ?? '',
        whatWasChecked: 'Proof reading, tag off, road test of one mile.',
        signedInAgainAt: at(asOf - 17, 15),
        now: at(asOf - 17, 15.02),
      }),
      'release',
    );
    await record(one.visit('jory', asOf - 3, 17, { ...proving, idle: 13.2 }));
  }

  async function unitThatWaitsForRelease() {
    const one = await holdingUnit('river');
    if (!one) return;
    await record(one.visit('tal', asOf - 4, 17, failing, { pedal: 'went hard' }));
    done(
      await hangTag(db, { actor: await actor('tal'), unitId: one.id, now: at(asOf - 4, 18) }),
      'tag',
    );
    await repair(one.id, 'ode', asOf - 2);
    await record(one.visit('tal', asOf - 1, 16, proving, { isProof: true }));
  }

  async function unitThatWaitsForAPart() {
    const one = await holdingUnit('quay');
    if (!one) return;
    await record(
      one.visit(
        'bela',
        asOf - 2,
        18,
        { idle: 12.4, lowest: 9.6, recovery: 9, holdLoss: 2.4 },
        { line: 'wet' },
      ),
    );
    const bela = await actor('bela');
    done(await hangTag(db, { actor: bela, unitId: one.id, now: at(asOf - 2, 19) }), 'tag');
    const order = done(
      await raiseWorkOrder(db, {
        actor: bela,
        unitId: one.id,
        why: 'Out of service: oil at the booster',
        raisedFrom: 'spell',
        taskKinds: ['pump', 'booster and line', 'proof'],
        now: at(asOf - 1, 16),
      }),
      'order',
    );
    const begun = done(
      await beginWorkOrder(db, {
        actor: bela,
        orderId: order.id,
        seenVersion: order.version,
        now: at(asOf - 1, 17),
      }),
      'begin',
    );
    done(
      await letWorkOrderWait(db, {
        actor: bela,
        orderId: order.id,
        seenVersion: begun.version,
        waitingFor: 'booster BB-90 A',
        waitingUntil: new Date((asOf + 12) * 86_400_000).toISOString().slice(0, 10),
        now: at(asOf - 1, 18),
      }),
      'wait',
    );
  }

  async function unitStoodDownByHand() {
    const one = await holdingUnit('north');
    if (!one) return;
    done(
      await standDown(db, {
        actor: await actor('ines'),
        unitId: one.id,
        cause: 'hard pedal on the road',
        note: 'Driver called from the pass; towed in.',
        now: at(asOf, 0.5),
      }),
      'stand-down',
    );
  }

  async function planTheFirstJobs() {
    const ines = await actor('ines');
    const booked = await db
      .select({
        unitId: verdict.unitId,
        why: verdict.why,
        assessment: verdict.assessment,
        shedId: unit.shedId,
      })
      .from(verdict)
      .innerJoin(unit, eq(unit.id, verdict.unitId))
      .where(and(eq(verdict.isCurrent, true), eq(verdict.mark, 'Book in')))
      .orderBy(asc(verdict.earliestEdgeOn), asc(verdict.unitId))
      .limit(14);
    for (const [index, job] of booked.entries()) {
      const isBelt = job.assessment.reasons[0]?.rule.includes('belt') ?? false;
      const order = done(
        await raiseWorkOrder(db, {
          actor: ines,
          unitId: job.unitId,
          why: job.why,
          raisedFrom: isBelt ? 'belt' : 'verdict',
          taskKinds: isBelt ? ['belt', 'proof'] : ['pump', 'belt', 'proof'],
          now: at(asOf - 1, 20),
        }),
        'order',
      );
      if (index % 3 === 2) continue;
      done(
        await placeWorkOrder(db, {
          actor: ines,
          orderId: order.id,
          seenVersion: order.version,
          shedId: job.shedId,
          week: isoWeekOf(asOf + 7 * (1 + Math.floor(index / 3))),
          isPinned: index === 0,
          now: at(asOf - 1, 20.1),
        }),
        'place',
      );
    }
  }
}
