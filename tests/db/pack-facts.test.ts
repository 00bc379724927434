import { sql } from 'drizzle-orm';
import { expect, it } from 'vitest';
import type { Db } from '@/db/client';
import { packFacts } from '@/db/reads/pack-facts';
import { mostRows } from '@/db/reads/pack-span';
import { judgeUnit } from '@/db/record/judge-unit';
import { unit } from '@/db/schema';
import { certifyRepair } from '@/db/writes/certify-repair';
import { releaseUnit } from '@/db/writes/release-unit';
import { standDown } from '@/db/writes/stand-down';
import { AccessDenied, type Role } from '@/lib/access';
import { onEachDatabase } from '../support/databases';
import { makeFixture, putFinishedOrder, putReading } from '../support/tarn-fixture';

const at = (hours: number) => new Date(Date.UTC(2026, 0, 5, 15) + hours * 3_600_000);

/** A unit that went out on the 5th, was mended on the 6th, and released on the 7th. */
async function mendedUnit(db: Db) {
  const fixture = await makeFixture(db);
  const [unitId] = fixture.unitIds as [string];
  const [certifier, reader] = [
    await fixture.person('technician'),
    await fixture.person('technician'),
  ];
  const officer = await fixture.person('safety officer');
  const stood = await standDown(db, {
    actor: officer,
    unitId,
    cause: 'other',
    note: null,
    now: at(0),
  });
  if (!stood.ok) throw new Error(stood.error);
  await putFinishedOrder(db, { unitId, by: certifier.personId, finishedAt: at(24) });
  await certifyRepair(db, {
    actor: certifier,
    unitId,
    kind: 'repaired',
    note: 'pump',
    now: at(25),
  });
  await putReading(db, { unitId, shedId: fixture.shedId, by: reader.personId, on: at(26) });
  const released = await releaseUnit(db, {
    actor: officer,
    unitId,
    spellId: stood.value.spellId,
    whatWasChecked: 'tag off',
    signedInAgainAt: at(48),
    now: at(48),
  });
  if (!released.ok) throw new Error(released.error);
  return { fixture, unitId, certifier, reader, officer };
}

onEachDatabase("what an auditor's pack holds", (db) => {
  it('of a unit: all that the record has, with the three people and unbroken hashes', async () => {
    const { unitId, certifier, reader, officer } = await mendedUnit(db());
    const made = await packFacts(db(), officer, { unitId, from: null, to: null });
    if (!made.ok) throw new Error(made.error.is);
    const { units, readings, verdicts, limits, spells, orders, entries } = made.value;
    expect(units).toMatchObject([{ id: unitId, vin: null }]);
    expect(readings).toHaveLength(1);
    expect(spells).toMatchObject([
      {
        certifiedBy: `${certifier.name}, ${certifier.personId}`,
        proofEntry: readings[0]?.entry,
        proofReadBy: `${reader.name}, ${reader.personId}`,
        releasedBy: `${officer.name}, ${officer.personId}`,
      },
    ]);
    expect(orders).toMatchObject([{ state: 'closed', fitted: [] }]);
    expect(verdicts.map(({ mark }) => mark)).toEqual(['Out of service', 'Proving']);
    expect(limits.map(({ version }) => version)).toEqual([
      ...new Set(verdicts.map(({ limitsVersion }) => limitsVersion)),
    ]);
    expect(entries.map(({ kind }) => kind)).toEqual([
      'spell opened',
      'marks changed',
      'repair certified',
      'released to service',
      'marks changed',
    ]);
    for (const [index, entry] of entries.entries()) {
      const before = entries[index - 1];
      if (before?.entry === entry.entry - 1) expect(entry.previousHash).toBe(before.hash);
    }
  });

  it('of a period: what lay in it, in part, and nothing else', async () => {
    const { unitId, officer } = await mendedUnit(db());
    const of = async (from: string, to: string) => {
      const made = await packFacts(db(), officer, { unitId, from, to });
      if (!made.ok) throw new Error(made.error.is);
      return made.value;
    };
    expect(await of('2026-01-06', '2026-01-06')).toMatchObject({
      readings: [{}],
      verdicts: [],
      spells: [{ unitId }],
      orders: [{ unitId }],
      entries: [{ kind: 'repair certified' }],
    });
    expect(await of('2025-12-01', '2026-01-04')).toMatchObject({
      units: [{ id: unitId }],
      readings: [],
      spells: [],
      orders: [],
      entries: [],
    });
    const all = await packFacts(db(), officer, {
      unitId: null,
      from: '2026-01-06',
      to: '2026-01-06',
    });
    expect(all.ok && all.value.units.map(({ id }) => id)).toContain(unitId);
  });

  it('leaves out a verdict that only repeats the one before', async () => {
    const { unitId, officer } = await mendedUnit(db());
    for (const hours of [49, 50]) {
      await db().transaction((tx) =>
        judgeUnit(tx, { unitId, actor: null, now: at(hours), because: 'sweep' }),
      );
    }
    const made = await packFacts(db(), officer, { unitId, from: null, to: null });
    expect(made.ok && made.value.verdicts).toHaveLength(2);
  });

  it('is refused without a scope, for a unit that is none, and where it would be too long', async () => {
    const { officer, fixture } = await mendedUnit(db());
    const ask = (unitId: string | null, from: string | null, to: string | null) =>
      packFacts(db(), officer, { unitId, from, to });
    expect(await ask(null, '2026-01-01', null)).toEqual({
      ok: false,
      error: { is: 'nothing asked' },
    });
    expect(await ask('NONE-9', null, null)).toEqual({ ok: false, error: { is: 'unknown unit' } });
    const id = `M${fixture.shedId.slice(5)}`;
    const { shedId } = fixture;
    await db()
      .insert(unit)
      .values({ id, shedId, body: 'van', odometerUnit: 'mi', trackedFrom: '2020-01-01' });
    const first = await putReading(db(), { unitId: id, shedId, by: officer.personId, on: at(0) });
    await db().execute(sql`
      insert into reading (id, unit_id, shed_id, technician_id, read_on, read_at, received_at, line, source, payload_digest)
      select gen_random_uuid(), unit_id, shed_id, technician_id, read_on, read_at, received_at, line, source, payload_digest
      from reading, generate_series(1, ${mostRows}) where id = ${first}`);
    expect(await ask(id, null, null)).toMatchObject({ ok: false, error: { is: 'too long' } });
  });

  it('is for the fleet manager, the safety officer and the auditor', async () => {
    const { unitId, fixture } = await mendedUnit(db());
    const outcome = async (role: Role) =>
      packFacts(db(), await fixture.person(role), { unitId, from: null, to: null }).then(
        ({ ok }) => ok,
        (error) => error instanceof AccessDenied && 'denied',
      );
    expect(await outcome('technician')).toBe('denied');
    expect(await outcome('admin')).toBe('denied');
    for (const role of ['fleet manager', 'safety officer', 'auditor'] as const) {
      expect([role, await outcome(role)]).toEqual([role, true]);
    }
  });
});
