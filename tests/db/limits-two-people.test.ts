import { eq } from 'drizzle-orm';
import { expect, it } from 'vitest';
import { limitsInForce } from '@/db/reads/limits-in-force';
import { marksUnderLimits } from '@/db/reads/marks-under-limits';
import { openSpells } from '@/db/reads/open-spells';
import { judgeUnit } from '@/db/record/judge-unit';
import { limitSet, verdict } from '@/db/schema';
import { sqlState } from '@/db/transaction';
import { decideLimits } from '@/db/writes/decide-limits';
import { proposeLimits } from '@/db/writes/propose-limits';
import { AccessDenied, type Actor } from '@/lib/access';
import { defaultLimits } from '@/lib/analysis/limits';
import { dayFromIso } from '@/lib/calendar';
import { onEachDatabase } from '../support/databases';
import { makeFixture, putReading } from '../support/tarn-fixture';

const now = new Date('2026-01-05T15:00:00Z');
const { version: _, ...defaults } = defaultLimits;
const day = (iso: string) => dayFromIso(iso) ?? Number.NaN;

onEachDatabase('a set of limits', (db) => {
  it('is proposed by one, approved by another, and counts from its date', async () => {
    const fixture = await makeFixture(db());
    const manager = await fixture.person('fleet manager');
    const officer = await fixture.person('safety officer');
    const propose = (actor: Actor) =>
      proposeLimits(db(), {
        actor,
        values: { ...defaults, idleCautionSle: 70 },
        effectiveFrom: '2026-01-10',
        source: 'own choice',
        reason: 'earlier warning',
        now,
      });
    await expect(propose(officer)).rejects.toThrow(AccessDenied);
    const proposed = await propose(manager);
    if (!proposed.ok) throw new Error(proposed.error);
    const { version } = proposed.value;
    expect(await propose(manager)).toEqual({ ok: false, error: 'one is proposed already' });
    expect(await limitsInForce(db(), day('2026-01-11'))).toEqual(defaultLimits);

    const decide = (actor: Actor) => decideLimits(db(), { actor, version, isApproved: true, now });
    await expect(decide(manager)).rejects.toThrow(AccessDenied);
    const sameHand = { ...officer, personId: manager.personId };
    expect(await decide(sameHand)).toEqual({ ok: false, error: 'your own proposal' });
    const byForce = await db()
      .update(limitSet)
      .set({ state: 'approved', decidedBy: manager.personId, decidedAt: now })
      .where(eq(limitSet.version, version))
      .then(() => 'done', sqlState);
    expect(byForce).toBe('23514');

    expect(await decide(officer)).toEqual({ ok: true, value: null });
    expect(await decide(officer)).toEqual({ ok: false, error: 'no such proposal' });
    expect((await limitsInForce(db(), day('2026-01-09'))).idleCautionSle).toBe(
      defaultLimits.idleCautionSle,
    );
    expect(await limitsInForce(db(), day('2026-01-10'))).toMatchObject({
      idleCautionSle: 70,
      version,
    });
  });

  it('tells before its approval which marks it would change; old verdicts keep their set', async () => {
    const fixture = await makeFixture(db());
    const [unitId] = fixture.unitIds as [string];
    const manager = await fixture.person('fleet manager');
    const officer = await fixture.person('safety officer');
    await putReading(db(), { unitId, shedId: fixture.shedId, by: manager.personId, on: now });
    const judge = () =>
      db().transaction((tx) => judgeUnit(tx, { unitId, actor: officer, now, because: 'test' }));
    const verdicts = () =>
      db()
        .select({
          isCurrent: verdict.isCurrent,
          limitsVersion: verdict.limitsVersion,
          mark: verdict.mark,
        })
        .from(verdict)
        .where(eq(verdict.unitId, unitId))
        .orderBy(verdict.limitsVersion);
    await judge();
    const [before] = await verdicts();

    const values = { ...defaults, idleStopAsRead: 95 };
    const proposed = await proposeLimits(db(), {
      actor: manager,
      values,
      effectiveFrom: '2026-01-04',
      source: 'own choice',
      reason: 'earlier stop',
      now,
    });
    if (!proposed.ok) throw new Error(proposed.error);
    const { version } = proposed.value;
    const changes = await marksUnderLimits(db(), officer, { ...values, version }, now);
    expect(changes).toMatchObject([{ unitId, from: before?.mark, to: 'Out of service' }]);
    expect(await verdicts()).toEqual([before]);
    expect(await openSpells(db(), officer, unitId)).toEqual([]);

    expect(await decideLimits(db(), { actor: officer, version, isApproved: true, now })).toEqual({
      ok: true,
      value: null,
    });
    await judge();
    expect(await verdicts()).toEqual([
      { ...before, isCurrent: false },
      { isCurrent: true, limitsVersion: version, mark: 'Out of service' },
    ]);
    expect(await openSpells(db(), officer, unitId)).toMatchObject([
      { row: { cause: 'reading past a stop limit' } },
    ]);
  });
});
