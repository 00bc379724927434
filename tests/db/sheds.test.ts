import { randomUUID } from 'node:crypto';
import { eq, inArray } from 'drizzle-orm';
import { beforeAll, expect, it } from 'vitest';
import { sheds } from '@/db/reads/sheds';
import { judgingDue, ledgerEntry, shed, unit } from '@/db/schema';
import { addGauge } from '@/db/writes/add-gauge';
import { keepShed } from '@/db/writes/keep-shed';
import { retireGauge } from '@/db/writes/retire-gauge';
import { AccessDenied, type Actor, roles } from '@/lib/access';
import type { ShedDetails } from '@/lib/sheds/shed-details';
import { onEachDatabase } from '../support/databases';
import { type Fixture, makeFixture } from '../support/tarn-fixture';

const now = new Date('2026-03-02T15:00:00Z');

function invented(): ShedDetails {
  const mark = randomUUID().slice(0, 8);
  return {
    shedId: `s-${mark}`,
    name: `Shed of ${mark}`,
    elevationM: 1500,
    timeZone: 'America/Denver',
    pressureUnit: 'psi',
    distanceUnit: 'mi',
    bayHoursPerWeek: 16,
  };
}

onEachDatabase('sheds', (db) => {
  let fixture: Fixture;
  let admin: Actor;
  beforeAll(async () => {
    fixture = await makeFixture(db(), 3);
    admin = await fixture.person('admin');
  });
  const keep = (details: ShedDetails, isNew: boolean) =>
    keepShed(db(), { actor: admin, details, isNew, now });
  const listed = async (shedId: string) =>
    (await sheds(db(), admin)).find(({ details }) => details.id === shedId);
  const entries = (kind: string) => db().$count(ledgerEntry, eq(ledgerEntry.kind, kind));

  it('go on record once, with one ledger entry', async () => {
    const details = invented();
    const before = await entries('shed added');
    expect(await keep(details, true)).toEqual({ ok: true, value: { toJudge: 0 } });
    const { shedId, ...row } = details;
    expect((await listed(shedId))?.details).toEqual({ id: shedId, ...row });
    expect(await entries('shed added')).toBe(before + 1);
    expect(await keep({ ...invented(), shedId }, true)).toMatchObject({
      ok: false,
      error: [{ field: 'shedId' }],
    });
    expect(await keep({ ...invented(), name: details.name }, true)).toMatchObject({
      ok: false,
      error: [{ field: 'name' }],
    });
    expect(await entries('shed added')).toBe(before + 1);
  });

  it('two of one name at once: one goes on record', async () => {
    const details = invented();
    const kept = await Promise.all([
      keep(details, true),
      keep({ ...details, shedId: `${details.shedId}-b` }, true),
    ]);
    expect(kept.filter(({ ok }) => ok)).toHaveLength(1);
    expect(await db().$count(shed, eq(shed.name, details.name))).toBe(1);
  });

  it('have their units judged again when the elevation or the zone was wrong, and only then', async () => {
    const own = await listed(fixture.shedId);
    if (!own) throw new Error('no shed');
    const { id: shedId, ...row } = own.details;
    await db()
      .update(unit)
      .set({ leftFleetOn: '2026-01-01' })
      .where(eq(unit.id, fixture.unitIds[2] ?? ''));
    const due = () => db().$count(judgingDue, inArray(judgingDue.unitId, [...fixture.unitIds]));
    expect(await keep({ shedId, ...row, bayHoursPerWeek: 41 }, false)).toMatchObject({
      value: { toJudge: 0 },
    });
    expect(await due()).toBe(0);
    // What a bulletin has left to the sweep does not know of the elevation.
    const [unitId = ''] = fixture.unitIds;
    await db().insert(judgingDue).values({ unitId, since: now, touched: 'nothing' });
    expect(await keep({ shedId, ...row, elevationM: 2100 }, false)).toMatchObject({
      value: { toJudge: 2 },
    });
    expect(await due()).toBe(2);
    expect(await db().$count(judgingDue, eq(judgingDue.touched, 'nothing'))).toBe(0);
    expect((await listed(shedId))?.details.elevationM).toBe(2100);
    expect(await keep({ ...invented(), shedId: 'nowhere' }, false)).toMatchObject({ ok: false });
  });

  it('hold gauges that the bay card offers until they are retired', async () => {
    const { shedId } = fixture;
    const gaugeId = `g-${randomUUID().slice(0, 8)}`;
    const details = {
      gaugeId,
      shedId,
      label: 'Dial 1',
      pressureUnit: 'inHg' as const,
      isLogging: false,
      calibrationDueOn: '2027-01-31',
    };
    const add = () => addGauge(db(), { actor: admin, details, now });
    expect(await add()).toEqual({ ok: true, value: { gaugeId } });
    expect(await add()).toMatchObject({ ok: false, error: [{ field: 'gaugeId' }] });
    expect(
      await addGauge(db(), {
        actor: admin,
        details: { ...details, gaugeId: 'x', shedId: 'x' },
        now,
      }),
    ).toMatchObject({ ok: false, error: [{ field: 'shedId' }] });
    const gauges = async () => (await listed(shedId))?.gauges.map(({ id }) => id);
    expect(await gauges()).toContain(gaugeId);
    const retire = () => retireGauge(db(), { actor: admin, gaugeId, now });
    expect(await retire()).toEqual({ ok: true, value: null });
    expect(await gauges()).not.toContain(gaugeId);
    expect(await retire()).toEqual({ ok: false, error: 'no such gauge' });
  });

  it('are an admin’s alone', async () => {
    for (const role of roles.filter((one) => one !== 'admin')) {
      const actor = await fixture.person(role);
      await expect(sheds(db(), actor)).rejects.toThrow(AccessDenied);
      await expect(
        keepShed(db(), { actor, details: invented(), isNew: true, now }),
      ).rejects.toThrow(AccessDenied);
      await expect(retireGauge(db(), { actor, gaugeId: 'any', now })).rejects.toThrow(AccessDenied);
    }
  });
});
