import { and, eq, inArray, sql } from 'drizzle-orm';
import { expect, it } from 'vitest';
import type { Db } from '@/db/client';
import { bulletinOnRecord } from '@/db/reads/bulletin-on-record';
import { previewRule } from '@/db/reads/preview-rule';
import { standDownPreview } from '@/db/reads/stand-down-preview';
import { yardRows } from '@/db/reads/yard-rows';
import { assessOnRecord, judgeUnits } from '@/db/record/judge-unit';
import type { BulletinDraft } from '@/db/record/store-bulletin';
import { sweepFleet } from '@/db/record/sweep';
import { judgingDue, spell, unit, verdict } from '@/db/schema';
import { approveBulletin } from '@/db/writes/approve-bulletin';
import { enterBulletin } from '@/db/writes/enter-bulletin';
import type { Result } from '@/lib/result';
import { onEachDatabase } from '../support/databases';
import { makeFixture, putReading } from '../support/tarn-fixture';

const yesterday = new Date('2026-05-03T18:00:00Z');
const now = new Date('2026-05-04T18:00:00Z');
const daysBefore = (days: number) => new Date(now.getTime() - days * 86_400_000);

/** Units that hold, drift and were never read, one whose verdict is yesterday's, and more without any. */
async function fleet(db: Db, units = 4) {
  const fixture = await makeFixture(db, units);
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

/** Asks that each verdict says what judging its unit in full would. */
async function asJudgedInFull(db: Db, stored: readonly (typeof verdict.$inferSelect)[]) {
  const unitIds = stored.map(({ unitId }) => unitId);
  const whole = await db.transaction((tx) => assessOnRecord(tx, unitIds, now));
  for (const row of stored) {
    const one = whole.find(({ unitId }) => unitId === row.unitId);
    expect(row.assessment).toEqual(JSON.parse(JSON.stringify(one?.assessment)));
    expect(row.wear).toEqual(row.assessment.wear);
    expect(row.why).toBe(row.assessment.reasons[0]?.text);
  }
  return stored;
}

function value<Value>(result: Result<Value, unknown>): Value {
  if (!result.ok) throw new Error(JSON.stringify(result.error));
  return result.value;
}

onEachDatabase('marks under a bulletin that is entered', (db) => {
  it('are those that judging every unit in full gives', async () => {
    const { fixture, manager, draft, verdicts, holding, drifting } = await fleet(db());
    const before = await verdicts([holding, drifting]);
    expect(before.map(({ mark }) => mark)).toEqual(['Holding', 'Drifting']);
    const entered = await enterBulletin(db(), { actor: manager, draft, now });
    expect(entered).toMatchObject({ ok: true, value: { unitsCovered: 4, toJudge: 0 } });
    const stored = await asJudgedInFull(db(), await verdicts(fixture.unitIds));
    expect(stored).toHaveLength(4);
    for (const row of stored) {
      expect(row).toMatchObject({
        mark: 'Book in',
        asOf: '2026-05-04',
        earliestEdgeOn: '2026-06-01',
      });
    }
  });

  it('are left to the sweep where they are many, and say so until it has judged them', async () => {
    const { fixture, manager, draft, verdicts, holding, drifting, stale } = await fleet(db(), 501);
    const { marks } = value(await previewRule(db(), manager, draft, now));
    const entered = value(await enterBulletin(db(), { actor: manager, draft, now }));
    expect(entered).toMatchObject({ unitsCovered: 501, toJudge: 501 });
    const waiting = async () =>
      (await bulletinOnRecord(db(), manager, entered.bulletinId))?.beingJudged;
    expect(await waiting()).toBe(501);
    const [row] = await yardRows(db(), [holding]);
    expect(row).toMatchObject({ mark: 'Holding', isBeingJudged: true });
    await sweepFleet(db(), now, { learns: false });
    expect(await waiting()).toBe(0);
    await asJudgedInFull(db(), await verdicts([holding, drifting, stale]));
    const judged = await verdicts(fixture.unitIds);
    expect(judged.filter(({ mark }) => mark === 'Book in')).toHaveLength(501);
    const known = await verdicts(fixture.unitIds.slice(0, 4));
    const foretold = known.map(({ unitId, mark }) => [unitId, mark]);
    expect(marks.map(({ unitId, to }) => [unitId, to])).toEqual(foretold);
  });

  it('stop every unit at once where it is not to be driven, as judging in full stops it', async () => {
    const { fixture, manager, draft, verdicts } = await fleet(db());
    const kind = 'do not drive until done';
    const stopping = { ...draft, kind, dueOn: null } as const;
    const { bulletinId } = value(
      await enterBulletin(db(), { actor: manager, draft: stopping, now }),
    );
    const officer = await fixture.person('safety officer');
    const { digest: seenDigest } = await standDownPreview(db(), officer, bulletinId);
    const approval = { actor: officer, bulletinId, seenDigest, now };
    expect(value(await approveBulletin(db(), approval))).toEqual({ stoodDown: 4 });
    const stored = await asJudgedInFull(db(), await verdicts(fixture.unitIds));
    expect(stored).toHaveLength(4);
    for (const row of stored) {
      expect(row).toMatchObject({ mark: 'Out of service', readingDueOn: null });
      expect(row.wear?.probabilityBeforeNextReading).toBeNull();
      expect(row.assessment.reasons[0]?.rule).toBe('open spell');
    }
    const spells = await db()
      .select()
      .from(spell)
      .where(inArray(spell.unitId, [...fixture.unitIds]));
    expect(spells).toHaveLength(4);
    for (const one of spells) expect(one).toMatchObject({ bulletinId, releasedAt: null });
    const warned = spells.filter(({ wasWarned }) => wasWarned).map(({ unitId }) => unitId);
    expect(warned).toEqual([fixture.unitIds[1]]);
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
