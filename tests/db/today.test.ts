import { beforeAll, expect, it } from 'vitest';
import { today } from '@/db/reads/today';
import { unitsToRead } from '@/db/reads/units-to-read';
import { workOrder } from '@/db/schema';
import { bringUnitBack } from '@/db/writes/bring-unit-back';
import { layUpUnit } from '@/db/writes/lay-up-unit';
import { AccessDenied, type Actor } from '@/lib/access';
import { dayFromIso } from '@/lib/calendar';
import { onEachDatabase } from '../support/databases';
import { type Fixture, makeFixture, putReading } from '../support/tarn-fixture';

/** A Wednesday of 2026-W27. */
const now = new Date('2026-07-01T18:00:00Z');
const day = dayFromIso('2026-07-01')!;

onEachDatabase('today', (db) => {
  let own: Fixture;
  let ines: Actor;
  let tal: Actor;

  beforeAll(async () => {
    own = await makeFixture(db(), 6);
    ines = await own.person('fleet manager');
    tal = await own.person('technician');
    const order = (at: number, change: Partial<typeof workOrder.$inferInsert>) => ({
      unitId: own.unitIds[at]!,
      why: 'weak',
      raisedFrom: 'verdict' as const,
      raisedAt: now,
      shedId: own.shedId,
      state: 'placed' as const,
      week: '2026-W27',
      ...change,
    });
    const done = { finishedBy: tal.personId, finishedAt: now };
    await db()
      .insert(workOrder)
      .values([
        order(0, {}),
        order(1, { week: '2026-W26' }),
        order(2, { week: '2026-W28' }),
        order(3, { state: 'begun', begunAt: now }),
        order(4, { state: 'waiting', waitingFor: 'a belt' }),
        order(5, { state: 'finished', ...done }),
        order(0, { state: 'closed', ...done, closedAt: new Date('2026-06-29T18:00:00Z') }),
        order(1, { state: 'closed', ...done, closedAt: new Date('2026-06-01T18:00:00Z') }),
      ]);
  });

  it('parts the orders by what is to be done about them', async () => {
    const shown = await today(db(), ines, day);
    const units = (orders: readonly { readonly unitId: string }[]) =>
      orders.map(({ unitId }) => own.unitIds.indexOf(unitId)).sort();
    expect(units(shown.inBays)).toEqual([3, 4]);
    expect(units(shown.due)).toEqual([0]);
    expect(units(shown.overdue)).toEqual([1]);
    expect(units(shown.proofOwed)).toEqual([5]);
    expect(units(shown.back)).toEqual([0]);
  });

  it('takes the mark from a unit laid up, and gives it back only after a reading', async () => {
    const unitId = own.unitIds[2]!;
    const at = { unitId, shedId: own.shedId, by: tal.personId };
    await putReading(db(), { ...at, on: new Date('2026-06-20T18:00:00Z') });
    const laidUp = { actor: ines, unitId, what: 'laid up' as const, on: '2026-06-25', now };
    await expect(layUpUnit(db(), { ...laidUp, actor: tal })).rejects.toThrow(AccessDenied);
    expect(await layUpUnit(db(), { ...laidUp, unitId: 'NONE' })).toEqual({
      ok: false,
      error: 'unknown unit',
    });
    expect((await layUpUnit(db(), laidUp)).ok).toBe(true);
    const { away } = await today(db(), ines, day);
    expect(away).toMatchObject([{ unitId, laidUpOn: '2026-06-25', lastReadOn: '2026-06-20' }]);
    const marked = await db().query.verdict.findFirst({
      where: (row, { and, eq }) => and(eq(row.unitId, unitId), eq(row.isCurrent, true)),
    });
    expect(marked?.mark).toBeNull();
    const toRead = async () => (await unitsToRead(db(), ines, own.shedId)).map(({ unit }) => unit);
    expect(await toRead()).not.toContain(unitId);

    const back = () => bringUnitBack(db(), { actor: ines, unitId, now });
    expect(await back()).toEqual({ ok: false, error: 'not read since' });
    await putReading(db(), { ...at, on: new Date('2026-06-30T18:00:00Z') });
    // Judged again, as recording a reading does.
    expect((await layUpUnit(db(), laidUp)).ok).toBe(true);
    expect(await back()).toEqual({ ok: true, value: null });
    expect((await today(db(), ines, day)).away).toEqual([]);
    expect(await toRead()).toContain(unitId);
    expect(await back()).toEqual({ ok: false, error: 'not laid up' });
  });
});
