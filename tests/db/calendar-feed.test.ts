import { eq } from 'drizzle-orm';
import ICAL from 'ical.js';
import { beforeAll, expect, it } from 'vitest';
import { calendarFeedOf } from '@/db/reads/calendar-feed-of';
import { calendarVisits } from '@/db/reads/calendar-visits';
import { calendarFeed, person, workOrder, workTask } from '@/db/schema';
import { makeCalendarFeed } from '@/db/writes/make-calendar-feed';
import { placeWorkOrder } from '@/db/writes/move-work-order';
import { revokeCalendarFeed } from '@/db/writes/revoke-calendar-feed';
import { AccessDenied, type Actor } from '@/lib/access';
import { visitsCalendar } from '@/lib/outflow/calendar';
import { onEachDatabase } from '../support/databases';
import { type Fixture, makeFixture } from '../support/tarn-fixture';

const now = new Date('2026-06-30T12:00:00Z');

/** The feed as ical.js, a parser of its own, reads it. */
const eventsOf = (text: string) =>
  new ICAL.Component(ICAL.parse(text))
    .getAllSubcomponents('vevent')
    .map((component) => new ICAL.Event(component));

onEachDatabase('the calendar feed', (db) => {
  let own: Fixture;
  let ines: Actor;
  let orderId: string;

  beforeAll(async () => {
    own = await makeFixture(db(), 1);
    ines = await own.person('fleet manager');
    const [order] = await db()
      .insert(workOrder)
      .values({
        unitId: own.unitIds[0]!,
        state: 'placed',
        why: 'weak; falling, fast',
        raisedFrom: 'verdict',
        raisedAt: now,
        shedId: own.shedId,
        week: '2026-W28',
      })
      .returning({ id: workOrder.id });
    orderId = order!.id;
    await db()
      .insert(workTask)
      .values([
        { workOrderId: orderId, position: 1, kind: 'pump', title: 'Pump, kit; C', hours: 2.2 },
        { workOrderId: orderId, position: 2, kind: 'proof', title: 'Proof', hours: 0.3 },
      ]);
  });

  const feedText = async (token: string) => {
    const visits = await calendarVisits(db(), token);
    return (
      visits && visitsCalendar({ name: 'Bay plan', domain: 'tarn.example', asOf: now }, visits)
    );
  };

  it('keeps no token, only its digest', async () => {
    const token = await makeCalendarFeed(db(), { actor: ines, now });
    expect(token).toMatch(/^[\w-]{43}$/);
    const [row] = await db().select().from(calendarFeed);
    expect(JSON.stringify(row)).not.toContain(token);
    expect(await calendarFeedOf(db(), ines)).toEqual(now);
  });

  it('is read by a calendar library, and moves with the order under one UID', async () => {
    const token = await makeCalendarFeed(db(), { actor: ines, now });
    const [before] = eventsOf((await feedText(token)) ?? '');
    expect(before).toMatchObject({
      summary: `${own.unitIds[0]}: Pump, kit; C, Proof`,
      location: `Shed ${own.shedId.slice(5)}`,
      sequence: 1,
    });
    expect(before?.startDate.toString()).toBe('2026-07-06');
    expect(before?.endDate.toString()).toBe('2026-07-11');
    await placeWorkOrder(db(), {
      actor: ines,
      orderId,
      seenVersion: 1,
      shedId: own.shedId,
      week: '2026-W30',
      isPinned: true,
      now,
    });
    const [after] = eventsOf((await feedText(token)) ?? '');
    expect(after?.uid).toBe(before?.uid);
    expect(after?.sequence).toBe(2);
    expect(after?.startDate.toString()).toBe('2026-07-20');
  });

  it('opens to nobody after it was revoked or made anew, or its owner left', async () => {
    const first = await makeCalendarFeed(db(), { actor: ines, now });
    const second = await makeCalendarFeed(db(), { actor: ines, now });
    expect(await feedText(first)).toBeNull();
    expect(await feedText(second)).toContain('BEGIN:VEVENT');
    await db().update(person).set({ isActive: false }).where(eq(person.id, ines.personId));
    expect(await feedText(second)).toBeNull();
    await db().update(person).set({ isActive: true }).where(eq(person.id, ines.personId));
    await revokeCalendarFeed(db(), { actor: ines, now });
    expect(await feedText(second)).toBeNull();
    expect(await calendarFeedOf(db(), ines)).toBeNull();
  });

  it('shows a technician of another shed nothing, and is refused to who sees no units', async () => {
    const far = await makeFixture(db(), 1);
    const tal = await far.person('technician');
    const token = await makeCalendarFeed(db(), { actor: tal, now });
    expect(eventsOf((await feedText(token)) ?? '')).toEqual([]);
    const kit = await far.person('admin');
    await expect(makeCalendarFeed(db(), { actor: kit, now })).rejects.toThrow(AccessDenied);
  });
});
