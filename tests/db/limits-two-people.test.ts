import { eq } from 'drizzle-orm';
import { expect, it } from 'vitest';
import { limitsInForce } from '@/db/reads/limits-in-force';
import { limitSet } from '@/db/schema';
import { sqlState } from '@/db/transaction';
import { decideLimits } from '@/db/writes/decide-limits';
import { proposeLimits } from '@/db/writes/propose-limits';
import { AccessDenied, type Actor } from '@/lib/access';
import { defaultLimits } from '@/lib/analysis/limits';
import { dayFromIso } from '@/lib/calendar';
import { onEachDatabase } from '../support/databases';
import { makeFixture } from '../support/tarn-fixture';

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
});
