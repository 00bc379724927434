import { and, eq, isNull } from 'drizzle-orm';
import { expect, it } from 'vitest';
import type { Db } from '@/db/client';
import { openSpellOfUnit } from '@/db/reads/facts-of-spells';
import { provingUnits } from '@/db/reads/proving-units';
import { spellsEndedSince } from '@/db/reads/spells-ended-since';
import { ledgerEntry, setting, spell, verdict, workOrder } from '@/db/schema';
import { acceptClock } from '@/db/writes/accept-clock';
import { certifyRepair } from '@/db/writes/certify-repair';
import { hangTag } from '@/db/writes/hang-tag';
import { releaseUnit } from '@/db/writes/release-unit';
import { standDown } from '@/db/writes/stand-down';
import type { Actor } from '@/lib/access';
import { dayFromIso } from '@/lib/calendar';
import { onEachDatabase } from '../support/databases';
import { makeFixture, putFinishedOrder, putReading } from '../support/tarn-fixture';

const hour = 3_600_000;
const start = Date.UTC(2026, 0, 5, 15);
const at = (hours: number) => new Date(start + hours * hour);

async function shopOf(db: Db) {
  const fixture = await makeFixture(db);
  const [unitId] = fixture.unitIds as [string];
  return {
    unitId,
    shedId: fixture.shedId,
    fixture,
    certifier: await fixture.person('technician'),
    reader: await fixture.person('technician'),
    officer: await fixture.person('safety officer'),
  };
}
type Shop = Awaited<ReturnType<typeof shopOf>>;

async function standOut(db: Db, { unitId, officer }: Shop): Promise<string> {
  const stood = await standDown(db, {
    actor: officer,
    unitId,
    cause: 'hard pedal on the road',
    note: 'third press',
    now: at(0),
  });
  if (!stood.ok) throw new Error(stood.error);
  return stood.value.spellId;
}

const readBy = (db: Db, { unitId, shedId }: Shop, actor: Actor, hours: number, change = {}) =>
  putReading(db, { unitId, shedId, by: actor.personId, on: at(hours) }, change);

const certify = (db: Db, { unitId }: Shop, actor: Actor, hours: number) =>
  certifyRepair(db, { actor, unitId, kind: 'repaired', note: 'pump and line', now: at(hours) });

const release = (db: Db, { unitId }: Shop, spellId: string, actor: Actor, hours: number) =>
  releaseUnit(db, {
    actor,
    unitId,
    spellId,
    whatWasChecked: 'proof read, tag off',
    signedInAgainAt: at(hours),
    now: at(hours),
  });

onEachDatabase('from stand-down to release', (db) => {
  it('takes three people, one order finished and one proof', async () => {
    const shop = await shopOf(db());
    const { unitId, certifier, reader, officer } = shop;
    const spellId = await standOut(db(), shop);
    expect(await hangTag(db(), { actor: certifier, unitId, now: at(1) })).toMatchObject({
      ok: true,
    });
    expect(await certify(db(), shop, certifier, 2)).toEqual({
      ok: false,
      error: 'no work finished',
    });
    const orderId = await putFinishedOrder(db(), {
      unitId,
      by: certifier.personId,
      finishedAt: at(3),
    });
    await readBy(db(), shop, reader, 2.5);
    expect(await certify(db(), shop, certifier, 4)).toMatchObject({ ok: true });
    expect(await release(db(), shop, spellId, officer, 5)).toEqual({
      ok: false,
      error: 'no proof',
    });
    await readBy(db(), shop, certifier, 5);
    expect(await release(db(), shop, spellId, officer, 6)).toEqual({
      ok: false,
      error: 'proof not fit',
    });
    const proof = await readBy(db(), shop, reader, 6);
    const released = await release(db(), shop, spellId, officer, 7);
    expect(released).toMatchObject({ ok: true, value: { spellId } });

    const [row] = await db().select().from(spell).where(eq(spell.id, spellId));
    expect(row).toMatchObject({
      certifiedBy: certifier.personId,
      proofReadingId: proof,
      proofReadBy: reader.personId,
      releasedBy: officer.personId,
      isSmallShop: false,
    });
    const [order] = await db().select().from(workOrder).where(eq(workOrder.id, orderId));
    expect(order?.state).toBe('closed');
    const [judged] = await db()
      .select({ mark: verdict.mark })
      .from(verdict)
      .where(and(eq(verdict.unitId, unitId), eq(verdict.isCurrent, true)));
    expect(judged?.mark).toBe('Proving');
    // Due 14 days after the release on 2026-01-05.
    expect(await provingUnits(db(), officer)).toContainEqual(
      expect.objectContaining({ unitId, nextReadingDue: dayFromIso('2026-01-19') }),
    );
    const [back] = await spellsEndedSince(db(), officer, at(6));
    expect(back).toMatchObject({ spellId, markNow: 'Proving', daysOut: 0 });
    const entries = await db()
      .select({ kind: ledgerEntry.kind })
      .from(ledgerEntry)
      .where(eq(ledgerEntry.unitId, unitId))
      .orderBy(ledgerEntry.entry);
    expect(entries.map(({ kind }) => kind)).toEqual([
      'spell opened',
      'marks changed',
      'stop tag hung',
      'repair certified',
      'released to service',
      'marks changed',
    ]);
  });

  it('refuses who is not fresh: no second sign-in, or a role of yesterday evening', async () => {
    const shop = await shopOf(db());
    const { unitId, certifier, reader, officer } = shop;
    const spellId = await standOut(db(), shop);
    await putFinishedOrder(db(), { unitId, by: certifier.personId, finishedAt: at(1) });
    await readBy(db(), shop, reader, 2);
    await certify(db(), shop, certifier, 2);
    const asked = { actor: officer, unitId, spellId, whatWasChecked: 'all', now: at(3) };
    for (const signedInAgainAt of [null, at(2.9)]) {
      expect(await releaseUnit(db(), { ...asked, signedInAgainAt })).toEqual({
        ok: false,
        error: 'not signed in again',
      });
    }
    const newcomer = await shop.fixture.person('safety officer', at(-20));
    expect(await release(db(), shop, spellId, newcomer, 3)).toEqual({
      ok: false,
      error: 'role too new',
    });
    expect(await release(db(), shop, spellId, officer, 3)).toMatchObject({ ok: true });
  });

  it('voids a certificate by later work, and asks for both signatures anew', async () => {
    const shop = await shopOf(db());
    const { unitId, certifier, reader, officer } = shop;
    const spellId = await standOut(db(), shop);
    await putFinishedOrder(db(), { unitId, by: certifier.personId, finishedAt: at(1) });
    await readBy(db(), shop, reader, 2);
    await certify(db(), shop, certifier, 2);
    await putFinishedOrder(db(), { unitId, by: certifier.personId, finishedAt: at(3) });
    expect(await release(db(), shop, spellId, officer, 4)).toEqual({
      ok: false,
      error: 'certificate void',
    });
    expect(await certify(db(), shop, certifier, 4)).toMatchObject({ ok: true });
    expect(await release(db(), shop, spellId, officer, 4)).toEqual({
      ok: false,
      error: 'no proof',
    });
  });

  it('takes a proof from a wrong clock only once accepted', async () => {
    const shop = await shopOf(db());
    const { unitId, certifier, reader, officer } = shop;
    const spellId = await standOut(db(), shop);
    await putFinishedOrder(db(), { unitId, by: certifier.personId, finishedAt: at(1) });
    const readingId = await readBy(db(), shop, reader, 2, { clockSkewS: 900 });
    await certify(db(), shop, certifier, 2);
    expect(await release(db(), shop, spellId, officer, 3)).toEqual({
      ok: false,
      error: 'proof not fit',
    });
    const accepted = await acceptClock(db(), {
      actor: officer,
      unitId,
      readingId,
      reason: 'tablet set an hour wrong, seen',
      now: at(3),
    });
    expect(accepted).toMatchObject({ ok: true });
    expect(await release(db(), shop, spellId, officer, 3)).toMatchObject({ ok: true });
  });

  it('orders readings by when they can have been read, whatever a fast clock says', async () => {
    const shop = await shopOf(db());
    const { certifier, reader } = shop;
    await standOut(db(), shop);
    // Its clock ran four minutes ahead: it reached the record before the other was read.
    const first = await readBy(db(), shop, reader, 2, { readAt: at(2 + 4 / 60) });
    const second = await readBy(db(), shop, certifier, 2 + 1 / 60);
    const open = await openSpellOfUnit(db(), shop.unitId);
    expect(open?.facts.readings.map(({ readingId }) => readingId)).toEqual([first, second]);
  });

  it('lets the releaser read the proof in a small shop, and keeps the certifier out', async () => {
    const shop = await shopOf(db());
    const { unitId, certifier, officer } = shop;
    const spellId = await standOut(db(), shop);
    await putFinishedOrder(db(), { unitId, by: certifier.personId, finishedAt: at(1) });
    await readBy(db(), shop, officer, 2);
    await certify(db(), shop, certifier, 2);
    expect(await release(db(), shop, spellId, officer, 3)).toEqual({
      ok: false,
      error: 'prover may not release',
    });
    await db()
      .insert(setting)
      .values({ name: 'small shop', value: { isOn: true, proposed: null }, changedAt: at(0) });
    expect(await release(db(), shop, spellId, officer, 3)).toMatchObject({ ok: true });
    await db().delete(setting).where(eq(setting.name, 'small shop'));
    const [row] = await db().select().from(spell).where(eq(spell.id, spellId));
    expect(row?.isSmallShop).toBe(true);
  });

  it('releases the spell that was seen and no other', async () => {
    const shop = await shopOf(db());
    await standOut(db(), shop);
    const other = '00000000-0000-4000-8000-000000000000';
    expect(await release(db(), shop, other, shop.officer, 3)).toEqual({
      ok: false,
      error: 'no open spell',
    });
    expect(await openSpellOfUnit(db(), shop.unitId)).not.toBeNull();
  });

  it('50 stand-downs at once of each of 10 units leave one open spell each', async () => {
    const fixture = await makeFixture(db(), 10);
    const actor = await fixture.person('safety officer');
    const attempts = fixture.unitIds.flatMap((unitId) => Array.from({ length: 50 }, () => unitId));
    const answers = await Promise.all(
      attempts.map((unitId) =>
        standDown(db(), { actor, unitId, cause: 'other', note: null, now: at(0) }),
      ),
    );
    expect(answers.filter(({ ok }) => ok)).toHaveLength(10);
    const open = await db()
      .select({ unitId: spell.unitId })
      .from(spell)
      .where(and(eq(spell.openedBy, actor.personId), isNull(spell.releasedAt)));
    expect(open.map(({ unitId }) => unitId).sort()).toEqual([...fixture.unitIds].sort());
  });
});
