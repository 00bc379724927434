import { and, eq, inArray, sql } from 'drizzle-orm';
import { expect, it } from 'vitest';
import type { Db } from '@/db/client';
import { assessOnRecord, judgeUnits } from '@/db/record/judge-unit';
import type { BulletinDraft } from '@/db/record/store-bulletin';
import { judgingDue, unit, verdict } from '@/db/schema';
import { enterBulletin } from '@/db/writes/enter-bulletin';
import { onEachDatabase } from '../support/databases';
import { makeFixture, putReading } from '../support/tarn-fixture';

const yesterday = new Date('2026-05-03T18:00:00Z');
const now = new Date('2026-05-04T18:00:00Z');
const daysBefore = (days: number) => new Date(now.getTime() - days * 86_400_000);

/** Units that hold, drift and were never read, and one whose verdict is yesterday's. */
async function fleet(db: Db) {
  const fixture = await makeFixture(db, 4);
  const [holding = '', drifting = '', unread = '', stale = ''] = fixture.unitIds;
  const manager = await fixture.person('fleet manager');
  await db
    .update(unit)
    .set({ model: fixture.shedId })
    .where(inArray(unit.id, [...fixture.unitIds]));
  const at = (unitId: string, days: number) => ({
    ...{ unitId, shedId: fixture.shedId, by: manager.personId, on: daysBefore(days) },
  });
  for (const unitId of [holding, drifting, stale]) await putReading(db, at(unitId, 40));
  await putReading(db, at(drifting, 5), { line: 'film' });
  await db.transaction(async (tx) => {
    const judge = { actor: manager, because: 'test' };
    await judgeUnits(tx, { ...judge, unitIds: [holding, drifting, unread], now });
    await judgeUnits(tx, { ...judge, unitIds: [stale], now: yesterday });
  });
  const draft: BulletinDraft = {
    ...{ number: `M-${fixture.shedId}`, issue: '1', title: 'Pump seal', issuedOn: '2026-05-01' },
    ...{ kind: 'mandatory', dueOn: '2026-06-01', rule: { anyOf: [{ model: [fixture.shedId] }] } },
    ...{ conditions: 'c', actions: 'a', hours: 1, requiredParts: [], source: 'invented' },
  };
  const verdicts = (unitIds: readonly string[]) =>
    db
      .select()
      .from(verdict)
      .where(and(inArray(verdict.unitId, [...unitIds]), eq(verdict.isCurrent, true)))
      .orderBy(verdict.unitId);
  return { fixture, manager, draft, verdicts, holding, drifting, unread, stale };
}

onEachDatabase('marks under a bulletin that is entered', (db) => {
  it('are those that judging every unit in full gives', async () => {
    const { fixture, manager, draft, verdicts, holding, drifting } = await fleet(db());
    const before = await verdicts([holding, drifting]);
    expect(before.map(({ mark }) => mark)).toEqual(['Holding', 'Drifting']);
    const entered = await enterBulletin(db(), { actor: manager, draft, now });
    expect(entered).toMatchObject({ ok: true, value: { unitsCovered: 4 } });
    const stored = await verdicts(fixture.unitIds);
    const whole = await db().transaction((tx) => assessOnRecord(tx, fixture.unitIds, now));
    for (const one of whole) {
      const row = stored.find(({ unitId }) => unitId === one.unitId);
      expect(row?.assessment).toEqual(JSON.parse(JSON.stringify(one.assessment)));
      expect(row).toMatchObject({
        mark: 'Book in',
        asOf: '2026-05-04',
        earliestEdgeOn: '2026-06-01',
      });
      expect(row?.why).toBe(one.assessment.reasons[0]?.text);
    }
    expect(stored).toHaveLength(4);
  });

  it('leave a verdict alone that a far due date does not change', async () => {
    const { manager, draft, verdicts, unread } = await fleet(db());
    const [before] = await verdicts([unread]);
    await enterBulletin(db(), { actor: manager, draft, now });
    const [after] = await verdicts([unread]);
    expect(after?.id).not.toBe(before?.id);
    const again = { ...draft, number: `${draft.number}-2`, dueOn: '2030-01-01' };
    await enterBulletin(db(), { actor: manager, draft: again, now });
    expect((await verdicts([unread]))[0]?.id).toBe(after?.id);
  });

  it('follow the readings of a unit that an import touched', async () => {
    const { fixture, manager, draft, verdicts, holding } = await fleet(db());
    const at = { unitId: holding, shedId: fixture.shedId, by: manager.personId, on: daysBefore(1) };
    await putReading(db(), at, { line: 'film' });
    await db().insert(judgingDue).values({ unitId: holding, since: now });
    await enterBulletin(db(), { actor: manager, draft, now });
    const [judged] = await verdicts([holding]);
    const rules = judged?.assessment.reasons.map(({ rule }) => rule);
    expect(rules).toEqual(['bulletin due', 'film once']);
    await db().execute(sql`delete from judging_due`);
  });
});
