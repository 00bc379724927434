import { randomUUID } from 'node:crypto';
import { and, eq, isNull } from 'drizzle-orm';
import { expect, it } from 'vitest';
import type { Db } from '@/db/client';
import { readingsOfUnits } from '@/db/reads/readings-of-units';
import { spell } from '@/db/schema';
import { amendReading } from '@/db/writes/amend-reading';
import { certifyRepair } from '@/db/writes/certify-repair';
import { decideAmendment } from '@/db/writes/decide-amendment';
import { releaseUnit } from '@/db/writes/release-unit';
import { standDown } from '@/db/writes/stand-down';
import { AccessDenied, type Actor } from '@/lib/access';
import { toKilopascals } from '@/lib/measure';
import { onEachDatabase } from '../support/databases';
import { makeFixture, putFinishedOrder, putReading } from '../support/tarn-fixture';

const start = Date.UTC(2026, 0, 5, 15);
const at = (hours: number) => new Date(start + hours * 3_600_000);
const psi = (value: string) => ({ value, unit: 'psi' as const });

async function shopOf(db: Db) {
  const fixture = await makeFixture(db);
  const [unitId] = fixture.unitIds as [string];
  const technician = await fixture.person('technician');
  const put = (hours: number, by: Actor = technician, change = {}) =>
    putReading(db, { unitId, shedId: fixture.shedId, by: by.personId, on: at(hours) }, change);
  const amend = (
    actor: Actor,
    readingId: string,
    keyed: Parameters<typeof amendReading>[1]['keyed'],
    hours = 2,
  ) =>
    amendReading(db, {
      actor,
      amendmentId: randomUUID(),
      readingId,
      keyed,
      seen: {},
      reason: 'read the wrong scale',
      now: at(hours),
    });
  const openSpells = () =>
    db
      .select()
      .from(spell)
      .where(and(eq(spell.unitId, unitId), isNull(spell.releasedAt)));
  return {
    fixture,
    unitId,
    technician,
    officer: await fixture.person('safety officer'),
    put,
    amend,
    openSpells,
  };
}

onEachDatabase('amendments', (db) => {
  it('count at once where they make nothing look better, and keep the first value', async () => {
    const { unitId, technician, put, amend } = await shopOf(db());
    const readingId = await put(1);
    expect(await amend(technician, readingId, { idle: psi('12.4') })).toMatchObject({
      ok: true,
      value: { state: 'approved' },
    });
    const [amended] = (await readingsOfUnits(db(), [unitId])).get(unitId) ?? [];
    expect(amended?.idle).toBeCloseTo(toKilopascals(12.4, 'psi'), 9);
    const [row] = await db().query.amendment.findMany({
      where: (table, { eq: equals }) => equals(table.readingId, readingId),
    });
    expect(row?.before).toEqual({ idleVacuumKpa: toKilopascals(13, 'psi') });
  });

  it('open a spell where the amended value passes a stop', async () => {
    const { technician, put, amend, openSpells } = await shopOf(db());
    const readingId = await put(1);
    await amend(technician, readingId, { idle: psi('6.0'), lowest: psi('3.0') });
    expect(await openSpells()).toMatchObject([{ cause: 'reading past a stop limit' }]);
  });

  it('that improve a mark wait for a safety officer, and close no spell', async () => {
    const { unitId, technician, officer, put, amend, openSpells } = await shopOf(db());
    const readingId = await put(1);
    await amend(technician, readingId, { idle: psi('6.0'), lowest: psi('3.0') });
    const back = await amend(technician, readingId, { idle: psi('13.0'), lowest: psi('10.6') });
    expect(back).toMatchObject({ ok: true, value: { state: 'asked' } });
    const [asked] = await db().query.amendment.findMany({
      where: (table, { eq: equals }) => equals(table.state, 'asked'),
    });
    const decide = (actor: Actor) =>
      decideAmendment(db(), { actor, amendmentId: asked?.id ?? '', isApproved: true, now: at(3) });
    await expect(decide(technician)).rejects.toThrow(AccessDenied);
    expect(await decide(officer)).toEqual({ ok: true, value: null });
    expect(await decide(officer)).toEqual({ ok: false, error: 'decided already' });
    const [amended] = (await readingsOfUnits(db(), [unitId])).get(unitId) ?? [];
    expect(amended?.idle).toBeCloseTo(toKilopascals(13, 'psi'), 9);
    expect(await openSpells()).toHaveLength(1);
  });

  it('of a proof that then fails open a new spell: proof withdrawn', async () => {
    const { unitId, fixture, technician, officer, put, amend, openSpells } = await shopOf(db());
    const certifier = await fixture.person('technician');
    const stood = await standDown(db(), {
      actor: officer,
      unitId,
      cause: 'other',
      note: null,
      now: at(0),
    });
    await putFinishedOrder(db(), { unitId, by: certifier.personId, finishedAt: at(1) });
    await certifyRepair(db(), {
      actor: certifier,
      unitId,
      kind: 'repaired',
      note: 'pump',
      now: at(1.5),
    });
    const proof = await put(2);
    const released = await releaseUnit(db(), {
      actor: officer,
      unitId,
      spellId: stood.ok ? stood.value.spellId : '',
      whatWasChecked: 'all',
      signedInAgainAt: at(3),
      now: at(3),
    });
    expect(released.ok).toBe(true);
    expect(await amend(technician, proof, { idle: psi('11.0') }, 4)).toMatchObject({
      value: { state: 'asked' },
    });
    expect(await openSpells()).toEqual([]);
    await amend(officer, proof, { idle: psi('11.0') }, 5);
    expect(await openSpells()).toMatchObject([{ cause: 'proof withdrawn', readingId: proof }]);
  });

  it('are refused to another technician, after a day, without a reason or a change', async () => {
    const { fixture, technician, put, amend } = await shopOf(db());
    const readingId = await put(1);
    const other = await fixture.person('technician');
    expect(await amend(other, readingId, { idle: psi('12') })).toMatchObject({ ok: false });
    expect(await amend(technician, readingId, { idle: psi('12') }, 26)).toMatchObject({
      ok: false,
      error: [{ field: 'reason' }],
    });
    expect(await amend(technician, readingId, {})).toMatchObject({ error: [{ field: 'idle' }] });
    expect(await amend(technician, readingId, { idle: psi('31') })).toMatchObject({
      error: [{ field: 'idle' }],
    });
    const elsewhere = { ...technician, shedIds: [] };
    await expect(amend(elsewhere, readingId, { idle: psi('12') })).rejects.toThrow(AccessDenied);
  });
});
