import { and, asc, eq } from 'drizzle-orm';
import type { Db } from '@/db/client';
import { unit, verdict } from '@/db/schema';
import { enterBulletin } from '@/db/writes/enter-bulletin';
import { hangTag } from '@/db/writes/hang-tag';
import { beginWorkOrder, letWorkOrderWait, placeWorkOrder } from '@/db/writes/move-work-order';
import { raiseWorkOrder } from '@/db/writes/raise-work-order';
import { releaseUnit } from '@/db/writes/release-unit';
import { standDown } from '@/db/writes/stand-down';
import { isoWeekOf } from '@/lib/calendar';
import type { DayNumber } from '@/lib/measure';
import type { FilledFleet } from './fill-fleet';
import { bulletins } from './scenario/bulletins';
import { readingPayloadOf } from './scenario/payloads';
import { at, done, shopFloor } from './shop-floor';

/** psi of sea-level equivalent, and seconds, of a pump that fails and of a new one. */
const failing = { idle: 6.1, lowest: 3.2, recovery: 24, holdLoss: 0.2 };
const proving = { idle: 13.3, lowest: 11.1, recovery: 6.1, holdLoss: 0.1 };

interface Recent {
  readonly asOf: DayNumber;
  readonly fleet: FilledFleet;
}

/** The last weeks as people lived them, through the same writes that the product uses. */
export async function tellRecentWeeks(db: Db, { asOf, fleet }: Recent): Promise<void> {
  const { actor, record, holdingUnit, repair } = shopFloor(db, fleet);

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
