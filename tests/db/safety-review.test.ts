import { expect, it } from 'vitest';
import type { Db } from '@/db/client';
import { safetyReview } from '@/db/reads/safety-review';
import { openSpell } from '@/db/record/open-spell';
import type { SpellCause } from '@/db/schema';
import { dayFromIso } from '@/lib/calendar';
import { onEachDatabase } from '../support/databases';
import { type Fixture, makeFixture, putReading } from '../support/tarn-fixture';

const noon = (day: number) => new Date(Date.UTC(2026, 0, day, 19));
const asOf = dayFromIso('2026-01-31') ?? 0;

async function out(db: Db, unitId: string, cause: SpellCause, day: number, wasWarned = false) {
  await db.transaction((tx) =>
    openSpell(tx, { unitId, cause, why: 'test', openedBy: null, wasWarned, now: noon(day) }),
  );
}

/** A technician's review counts the own shed alone, so each test sees its own units. */
const reviewOf = async (db: Db, fixture: Fixture) => {
  const actor = await fixture.person('technician');
  return (await safetyReview(db, actor, { asOf, months: 2 })).at(-1);
};

onEachDatabase('the safety review of a month', (db) => {
  it('tells how spells were found, by their cause, which were warned, and their days out', async () => {
    const fixture = await makeFixture(db(), 5);
    const [a, b, c, d, e] = fixture.unitIds as [string, string, string, string, string];
    await out(db(), a, 'reading past a stop limit', 29, true);
    await out(db(), b, 'proof withdrawn', 30);
    await out(db(), c, 'do-not-drive bulletin', 31);
    await out(db(), d, 'hard pedal on the road', 31);
    await out(db(), e, 'other', 31);
    expect(await reviewOf(db(), fixture)).toMatchObject({
      month: '2026-01',
      opened: 5,
      closed: 0,
      byReading: 2,
      byBulletin: 1,
      byDriver: 2,
      warned: 1,
      daysOut: 3 + 2 + 1 + 1 + 1,
    });
  });

  it('counts units whose reading is overdue at its end', async () => {
    const fixture = await makeFixture(db(), 3);
    const [read, old] = fixture.unitIds as [string, string];
    const { personId: by } = await fixture.person('technician');
    const { shedId } = fixture;
    await putReading(db(), { unitId: read, shedId, by, on: noon(5) });
    await putReading(db(), { unitId: old, shedId, by, on: new Date('2025-06-01T19:00:00Z') });
    expect((await reviewOf(db(), fixture))?.overdue).toBe(2);
  });
});
