import { eq } from 'drizzle-orm';
import { expect, it } from 'vitest';
import { bayList } from '@/db/reads/bay-list';
import { baySnapshot } from '@/db/reads/bay-snapshot';
import { unit, workOrder } from '@/db/schema';
import { recordReading } from '@/db/writes/record-reading';
import { AccessDenied } from '@/lib/access';
import { rowOf, unitsInBay } from '@/lib/bay-card/bay-list';
import { isoWeekOf, localDay } from '@/lib/calendar';
import { onEachDatabase } from '../support/databases';
import { soundPayload } from '../support/sound-payload';
import { makeFixture } from '../support/tarn-fixture';

const at = (days: number) => new Date(Date.UTC(2026, 0, 5, 15) + days * 86_400_000);
const units = { badge: 'B1', pressureUnit: 'psi', distanceUnit: 'mi' } as const;

onEachDatabase('the list that the bay card opens on', (db) => {
  it('is the top of the list of the snapshot: overdue, at work, laid up, gone, never read', async () => {
    const fixture = await makeFixture(db(), 6);
    const person = { ...(await fixture.person('technician')), ...units };
    const [due, begun, placed, laidUp, gone] = fixture.unitIds as [
      string,
      string,
      string,
      string,
      string,
    ];
    for (const unitId of fixture.unitIds.slice(0, 5)) {
      const payload = { ...soundPayload(unitId, person.personId), confirmed: [] };
      const said = await recordReading(db(), { actor: person, payload, now: at(0) });
      expect(said).toMatchObject({ ok: true });
    }
    const later = at(120);
    const week = isoWeekOf(localDay(later, 'America/Denver'));
    const order = { raisedFrom: 'by hand', raisedAt: at(0), shedId: fixture.shedId } as const;
    await db()
      .insert(workOrder)
      .values([
        { ...order, unitId: begun, state: 'placed', week: '2026-W01', why: 'an older one' },
        { ...order, unitId: begun, state: 'begun', week, why: 'the one at work' },
        { ...order, unitId: placed, state: 'placed', week, why: 'for this week' },
      ]);
    await db().update(unit).set({ laidUpOn: '2026-01-20' }).where(eq(unit.id, laidUp));
    await db().update(unit).set({ leftFleetOn: '2026-01-20' }).where(eq(unit.id, gone));

    const listed = await bayList(db(), person, later);
    const known = unitsInBay((await baySnapshot(db(), person, later)).units);
    expect(listed.rows).toEqual(known.map(rowOf));
    expect(listed.count).toBe(known.length);
    expect(listed.rows.map(({ id }) => id)).toEqual([begun, placed, due]);
    expect(listed.rows[0]?.note).toContain(' begun · read 2026-01-05');
    const early = await bayList(db(), person, at(30));
    expect(early.rows.map(({ id }) => id)).toEqual([begun]);
  });

  it('names units of the person’s own sheds only, to those who take readings', async () => {
    const fixture = await makeFixture(db());
    const elsewhere = await makeFixture(db());
    const person = { ...(await fixture.person('technician')), ...units };
    const theirs = { ...(await elsewhere.person('technician')), ...units };
    const auditor = { ...(await fixture.person('auditor')), ...units };
    const [unitId] = fixture.unitIds as [string];
    const payload = { ...soundPayload(unitId, person.personId), confirmed: [] };
    await recordReading(db(), { actor: person, payload, now: at(0) });
    expect((await bayList(db(), person, at(120))).rows.map(({ id }) => id)).toEqual([unitId]);
    expect(await bayList(db(), theirs, at(120))).toMatchObject({ count: 0, rows: [] });
    await expect(bayList(db(), auditor, at(120))).rejects.toThrow(AccessDenied);
  });
});
