import { inArray } from 'drizzle-orm';
import { beforeEach, describe, expect, it } from 'vitest';
import { bayPlan } from '@/db/reads/bay-plan';
import { partStock, workOrder, workTask } from '@/db/schema';
import { placeOrders } from '@/db/writes/place-orders';
import { setShedClosure } from '@/db/writes/set-shed-closure';
import { setUnitAbsence } from '@/db/writes/set-unit-absence';
import { AccessDenied, type Actor } from '@/lib/access';
import { dayFromIso } from '@/lib/calendar';
import { checkPlan } from '@/lib/planning/check-plan';
import { openHours } from '@/lib/planning/open-hours';
import { proposePlan } from '@/lib/planning/propose-plan';
import { onEachDatabase } from '../support/databases';
import { type Fixture, makeFixture } from '../support/tarn-fixture';

/** A Monday, the first of 2026-W28. */
const now = new Date('2026-07-06T12:00:00Z');
const today = dayFromIso('2026-07-06')!;

onEachDatabase('the bay plan', (db) => {
  let own: Fixture;
  let ines: Actor;
  let orders: { id: string; unitId: string }[];

  beforeEach(async () => {
    own = await makeFixture(db(), 2);
    ines = await own.person('fleet manager');
    orders = await db()
      .insert(workOrder)
      .values(
        own.unitIds.map((unitId) => ({
          unitId,
          state: 'raised' as const,
          why: 'weak',
          raisedFrom: 'verdict' as const,
          raisedAt: now,
        })),
      )
      .returning({ id: workOrder.id, unitId: workOrder.unitId });
    await db()
      .insert(workTask)
      .values(
        orders.map(({ id }) => ({
          workOrderId: id,
          position: 1,
          kind: 'pump' as const,
          title: 'Pump',
          hours: 2,
        })),
      );
  });

  const to = (week: string) => ({ shedId: own.shedId, week });
  const place = (
    at: number,
    seenVersion: number,
    week: string | null,
    why: string | null = null,
  ) => ({
    orderId: orders[at]!.id,
    seenVersion,
    to: week === null ? null : to(week),
    isPinned: week !== null,
    overfilledWhy: why,
  });
  const put = (...placements: ReturnType<typeof place>[]) =>
    placeOrders(db(), { actor: ines, placements, because: 'moved by hand', now });
  const weeks = async () => {
    const { orders: shown } = await bayPlan(db(), ines, today);
    return orders.map(({ id }) => shown.find((order) => order.id === id)?.week ?? null);
  };
  const jobOf = async (at: number) =>
    (await bayPlan(db(), ines, today)).input.jobs.find(({ id }) => id === orders[at]!.id)!;

  it('moves orders and puts them back where they stood', async () => {
    await put(place(0, 1, '2026-W29'));
    const moved = await put(place(0, 2, '2026-W31', 'the customer waits'), place(1, 1, '2026-W30'));
    expect(await weeks()).toEqual(['2026-W31', '2026-W30']);
    if (!moved.ok) throw new Error('not moved');
    const undone = await placeOrders(db(), {
      actor: ines,
      placements: moved.value,
      because: 'undone',
      now,
    });
    expect(undone.ok).toBe(true);
    expect(await weeks()).toEqual(['2026-W29', null]);
    expect((await jobOf(0)).pinned).toEqual(to('2026-W29'));
  });

  it('lets the second of two managers overwrite nothing, not even in part', async () => {
    await put(place(1, 1, '2026-W30'));
    const second = await put(place(0, 1, '2026-W32'), place(1, 1, '2026-W32'));
    expect(second.ok).toBe(false);
    expect(await weeks()).toEqual([null, '2026-W30']);
  });

  it('keeps the reason why a week is overfull, and drops it with the next move', async () => {
    await put(place(0, 1, '2026-W29', 'it must go out'));
    const whyOf = async () =>
      (await bayPlan(db(), ines, today)).orders.find(({ id }) => id === orders[0]!.id)
        ?.overfilledWhy;
    expect(await whyOf()).toBe('it must go out');
    await put(place(0, 2, '2026-W30'));
    expect(await whyOf()).toBeNull();
  });

  describe('closures, absences and parts', () => {
    it('keep a proposal out of weeks without hours and without the unit', async () => {
      const change = { actor: ines, shedId: own.shedId, reason: 'flood', now };
      await setShedClosure(db(), { ...change, week: '2026-W28', hoursLost: 40 });
      await setShedClosure(db(), { ...change, week: '2026-W29', hoursLost: 10 });
      await setShedClosure(db(), { ...change, week: '2026-W29', hoursLost: 0 });
      const away = { actor: ines, unitId: orders[0]!.unitId, reason: 'lent', now };
      await setUnitAbsence(db(), { ...away, week: '2026-W29', isAway: true });
      await setUnitAbsence(db(), { ...away, week: '2026-W30', isAway: true });
      await setUnitAbsence(db(), { ...away, week: '2026-W30', isAway: false });
      const { input } = await bayPlan(db(), ines, today);
      const shed = input.sheds.find(({ id }) => id === own.shedId)!;
      expect([openHours(shed, '2026-W28'), openHours(shed, '2026-W29')]).toEqual([0, 40]);
      expect((await jobOf(0)).blackoutWeeks).toEqual(['2026-W29']);
      const { placement } = proposePlan(input, { moves: 20_000 });
      expect(checkPlan(input, placement).breaches).toEqual([]);
      expect(['2026-W28', '2026-W29']).not.toContain(placement.get(orders[0]!.id)?.week);
      expect(placement.get(orders[1]!.id)?.week).not.toBe('2026-W28');
    });

    it('hold an order back until its part is there', async () => {
      const partNumber = `VP-${own.shedId}`;
      await db().insert(partStock).values({
        partNumber,
        revision: 'A',
        part: 'pump',
        description: 'pump',
        inStock: 1,
        leadTimeDays: 21,
      });
      await db()
        .update(workTask)
        .set({ partNumber })
        .where(
          inArray(
            workTask.workOrderId,
            orders.map(({ id }) => id),
          ),
        );
      const readyOn = [(await jobOf(0)).readyOn, (await jobOf(1)).readyOn];
      expect(readyOn).toEqual([null, today + 21]);
    });
  });

  it('is changed by who may plan alone', async () => {
    const tal = await own.person('technician');
    const placements = [place(0, 1, '2026-W29')];
    await expect(
      placeOrders(db(), { actor: tal, placements, because: 'moved by hand', now }),
    ).rejects.toThrow(AccessDenied);
  });
});
