import { inArray } from 'drizzle-orm';
import { expect, it } from 'vitest';
import type { Db } from '@/db/client';
import { type UndecidedPlace, undecidedCounts, undecidedFacts } from '@/db/reads/undecided-facts';
import { bulletin, bulletinUnit, unit } from '@/db/schema';
import type { Actor } from '@/lib/access';
import { onEachDatabase } from '../support/databases';
import { type Fixture, makeFixture } from '../support/tarn-fixture';

const now = new Date('2026-05-04T12:00:00Z');
const missing = (fact: string) => ({ fact, whoCanGetIt: 'technician', how: 'Look.' });

async function putWaiting(db: Db, unitIds: readonly string[], number: string, facts: string[]) {
  const [row] = await db
    .insert(bulletin)
    .values({
      ...{ number, issue: '1', title: 'Pump seal', issuedOn: '2026-01-01' },
      ...{ kind: 'recommended', rule: { anyOf: [{ everyUnit: true }] }, conditions: 'c' },
      ...{ actions: 'a', hours: 1, source: 'invented', enteredAt: now },
    })
    .returning({ id: bulletin.id });
  await db.insert(bulletinUnit).values(
    unitIds.map((unitId) => ({
      ...{ bulletinId: row?.id ?? '', unitId, applicability: 'undecided' as const, why: 'w' },
      ...{ missing: facts.map(missing), status: 'undecided' as const, statusAt: now },
    })),
  );
}

/** Two sheds whose units wait for facts, and the technician of both. */
async function fleet(db: Db): Promise<{ here: Fixture; there: Fixture; technician: Actor }> {
  const [here, there] = [await makeFixture(db, 5), await makeFixture(db, 3)];
  const all = [...here.unitIds, ...there.unitIds];
  await putWaiting(db, all, `A-${here.shedId}`, ['month of build', 'pump revision']);
  await putWaiting(db, all.slice(0, 2), `B-${here.shedId}`, ['pump revision', 'engine']);
  const person = await here.person('technician');
  return { here, there, technician: { ...person, shedIds: [here.shedId, there.shedId] } };
}

/** Every page from one end to the other, in the order of the list. */
async function walk(db: Db, actor: Actor, way: 'after' | 'before', place: UndecidedPlace) {
  const pages: string[][] = [];
  let at = place;
  for (;;) {
    const { facts, first, last } = await undecidedFacts(db, actor, at);
    pages.push(facts.map(({ unitId, fact }) => `${unitId} ${fact}`));
    const next = way === 'after' ? last : first;
    if (next === null) return way === 'after' ? pages : pages.reverse();
    at = { ...place, after: undefined, before: undefined, [way]: next };
  }
}

onEachDatabase('the undecided list', (db) => {
  it('comes page by page, forward and back, each unit with all that it waits for', async () => {
    const { technician } = await fleet(db());
    const whole = await undecidedFacts(db(), technician, { limit: 100 });
    expect([whole.first, whole.last]).toEqual([null, null]);
    const told = whole.facts.map(({ unitId, fact }) => `${unitId} ${fact}`);
    expect(told).toHaveLength(8 * 2 + 2);
    const forward = await walk(db(), technician, 'after', { limit: 3 });
    expect(forward.flat()).toEqual(told);
    expect(forward.map((page) => new Set(page.map((one) => one.split(' ')[0])).size)).toEqual([
      3, 3, 2,
    ]);
    const end = whole.facts.at(-1)?.unitId;
    const backward = await walk(db(), technician, 'before', { limit: 3, before: end });
    expect(backward.flat()).toEqual(told.slice(0, -2));
  });

  it('names the bulletins that wait for one fact together', async () => {
    const { here, technician } = await fleet(db());
    const { facts } = await undecidedFacts(db(), technician, { shedId: here.shedId, limit: 1 });
    expect(facts.map(({ fact, bulletins }) => [fact, bulletins.length])).toEqual([
      ['month of build', 1],
      ['pump revision', 2],
      ['engine', 1],
    ]);
  });

  it('counts units by shed, and leaves out those that left the fleet', async () => {
    const { here, there, technician } = await fleet(db());
    const counted = async () =>
      Object.fromEntries(
        (await undecidedCounts(db(), technician)).map(({ shedId, units }) => [shedId, units]),
      );
    expect(await counted()).toEqual({ [here.shedId]: 5, [there.shedId]: 3 });
    await db()
      .update(unit)
      .set({ leftFleetOn: '2026-05-01' })
      .where(inArray(unit.id, [...there.unitIds]));
    expect(await counted()).toEqual({ [here.shedId]: 5 });
    const { facts } = await undecidedFacts(db(), technician, { shedId: there.shedId, limit: 9 });
    expect(facts).toEqual([]);
  });

  it('begins nowhere after a unit that there is not', async () => {
    const { technician } = await fleet(db());
    const page = await undecidedFacts(db(), technician, { limit: 9, after: 'NONE' });
    expect(page.facts).toEqual([]);
  });
});
