import { randomUUID } from 'node:crypto';
import { and, eq, inArray, isNull } from 'drizzle-orm';
import { expect, it } from 'vitest';
import { appendToLedger, checkLedger } from '@/db/ledger';
import { packFacts } from '@/db/reads/pack-facts';
import { retention } from '@/db/reads/retention';
import {
  amendment,
  ledgerEntry,
  ledgerPayload,
  limitSet,
  purgedUnit,
  reading,
  spell,
  unit,
  verdict,
  workOrder,
} from '@/db/schema';
import { decideRetention } from '@/db/writes/decide-retention';
import { proposeRetention } from '@/db/writes/propose-retention';
import { purgeRecords } from '@/db/writes/purge-records';
import { AccessDenied } from '@/lib/access';
import { defaultLimits } from '@/lib/analysis/limits';
import { recordTables } from '@/lib/outflow/pack/record-tables';
import { unitBlocks } from '@/lib/outflow/pack/unit-blocks';
import { defaultRetention, type RetentionPolicy } from '@/lib/retention/retention-policy';
import { onEachDatabase } from '../support/databases';
import { makeFixture, putReading } from '../support/tarn-fixture';

const now = new Date('2026-06-30T18:00:00Z');
const dayMs = 86_400_000;
const daysAgo = (days: number) => new Date(now.getTime() - days * dayMs);

onEachDatabase('retention', (db) => {
  const setUp = async () => {
    const fixture = await makeFixture(db(), 4);
    const technician = await fixture.person('technician');
    const officer = await fixture.person('safety officer');
    const manager = await fixture.person('fleet manager');
    const [kept = '', left = '', out = '', open = ''] = fixture.unitIds;
    const read = async (unitId: string, on: Date) => {
      const place = { unitId, shedId: fixture.shedId, by: technician.personId, on };
      const id = await putReading(db(), place);
      await db().transaction((tx) =>
        appendToLedger(tx, {
          kind: 'reading recorded',
          actor: technician,
          now: on,
          unitId,
          payload: { id },
        }),
      );
      return id;
    };
    const approve = async (policy: RetentionPolicy) => {
      await proposeRetention(db(), { actor: manager, policy, why: 'room', now });
      expect(await decideRetention(db(), { actor: officer, isApproved: true, now })).toMatchObject({
        ok: true,
      });
    };
    const leave = (unitId: string, on: string) =>
      db().update(unit).set({ leftFleetOn: on }).where(eq(unit.id, unitId));
    const purge = (isDryRun = false) => purgeRecords(db(), { actor: officer, isDryRun, now });
    return { officer, manager, technician, kept, left, out, open, read, approve, leave, purge };
  };

  const readingsOf = async (unitId: string) =>
    (await db().select().from(reading).where(eq(reading.unitId, unitId))).length;
  const payloadsOf = async (unitId: string) =>
    (
      await db()
        .select()
        .from(ledgerEntry)
        .innerJoin(ledgerPayload, eq(ledgerPayload.entry, ledgerEntry.entry))
        .where(eq(ledgerEntry.unitId, unitId))
    ).length;

  it('takes two people to change: the manager proposes, a safety officer approves', async () => {
    const { manager, officer, technician } = await setUp();
    const policy = { ...defaultRetention, yearsOfReadings: 7 };
    const by = (actor: typeof manager) =>
      proposeRetention(db(), { actor, policy, why: 'room', now });
    await expect(by(technician)).rejects.toThrow(AccessDenied);
    await by(manager);
    await expect(decideRetention(db(), { actor: manager, isApproved: true, now })).rejects.toThrow(
      AccessDenied,
    );
    expect((await retention(db())).policy.yearsOfReadings).toBeNull();
    await decideRetention(db(), { actor: officer, isApproved: false, now });
    expect(await retention(db())).toEqual({ policy: defaultRetention, proposed: null });
    await expect(purgeRecords(db(), { actor: manager, isDryRun: true, now })).rejects.toThrow(
      AccessDenied,
    );
  });

  it('takes all of a unit six months after it left, and nothing sooner', async () => {
    const { left, kept, officer, read, leave, purge } = await setUp();
    await read(left, daysAgo(400));
    await read(left, daysAgo(300));
    await read(kept, daysAgo(4_000));
    await leave(left, '2025-12-31');
    const early = await purgeRecords(db(), {
      actor: officer,
      isDryRun: false,
      now: new Date('2026-06-29T18:00:00Z'),
    });
    expect(early).toMatchObject({ units: 0, entry: null });

    expect(await purge(true)).toMatchObject({
      units: 1,
      counts: { readings: 2, payloads: 2 },
      entry: null,
    });
    const other = { actor: officer, isDryRun: false, seenUnits: 2, now };
    expect(await purgeRecords(db(), other)).toMatchObject({ units: 1, entry: null });
    expect(await readingsOf(left)).toBe(2);
    const purged = await purgeRecords(db(), { ...other, seenUnits: 1 });
    expect(purged).toMatchObject({ units: 1, counts: { readings: 2, payloads: 2 } });
    expect([await readingsOf(left), await payloadsOf(left)]).toEqual([0, 0]);
    expect([await readingsOf(kept), await payloadsOf(kept)]).toEqual([1, 1]);
    expect(await purge()).toMatchObject({ units: 0, entry: null });

    const check = await checkLedger(db());
    expect(check.faults).toEqual([]);
    expect(check.purged).toBeGreaterThanOrEqual(2);
    const entries = await db().select().from(ledgerEntry).where(eq(ledgerEntry.unitId, left));
    expect(entries).toHaveLength(2);

    const pack = await packFacts(db(), officer, { unitId: left, from: null, to: null });
    if (!pack.ok) throw new Error(pack.error.is);
    const reader = { name: 'O', pressure: 'psi', distance: 'mi' } as const;
    const said = JSON.stringify([unitBlocks(pack.value), recordTables(pack.value, reader)]);
    expect(said).toContain(
      `Unit ${left}: purged by policy on 2026-06-30 18:00:00Z, ledger entry ${purged.entry}: 2 readings`,
    );
    expect(said.match(/Purged by policy on 2026-06-30 18:00/g)).toHaveLength(2);
  });

  it('takes nothing of a unit out of service, with open work, or with an amendment asked for', async () => {
    const { left, out, open, technician, read, leave, purge } = await setUp();
    const asked = await read(left, daysAgo(400));
    const values = { readingId: asked, before: {}, after: {}, keyed: {}, reason: 'slip' };
    await db()
      .insert(amendment)
      .values({
        id: randomUUID(),
        ...values,
        state: 'asked',
        madeBy: technician.personId,
        madeAt: daysAgo(390),
      });
    await read(out, daysAgo(400));
    await db()
      .insert(spell)
      .values({ unitId: out, cause: 'other', why: 'belt off', openedAt: daysAgo(390) });
    await read(open, daysAgo(400));
    await db()
      .insert(workOrder)
      .values({
        unitId: open,
        state: 'raised',
        why: 'pump',
        raisedFrom: 'by hand',
        raisedAt: daysAgo(390),
      });
    for (const unitId of [left, out, open]) await leave(unitId, '2025-01-01');
    expect(await purge()).toMatchObject({ units: 0, entry: null });
    for (const unitId of [left, out, open]) expect(await readingsOf(unitId)).toBe(1);
  });

  it('takes old records of a unit in the fleet, never the newest 20 readings nor what a spell stands on', async () => {
    const { kept, technician, officer, read, approve, purge } = await setUp();
    const ids = [];
    for (let k = 0; k < 25; k++) ids.push(await read(kept, daysAgo(4_000 - k * 30)));
    const [evidence = ''] = ids;
    const people = { certifiedBy: technician.personId, releasedBy: officer.personId };
    await db()
      .insert(spell)
      .values({
        unitId: kept,
        cause: 'other',
        why: 'belt off',
        openedAt: daysAgo(4_000),
        readingId: evidence,
        certificate: 'repaired',
        certifiedAt: daysAgo(3_990),
        releasedAt: daysAgo(3_980),
        proofReadingId: ids[1],
        proofReadBy: officer.personId,
        isSmallShop: true,
        ...people,
      });
    await approve({ ...defaultRetention, yearsOfReadings: 2, yearsOfPayloads: 2 });
    const purged = await purge();
    expect(purged.counts).toMatchObject({ readings: 3, spells: 0 });
    expect(await readingsOf(kept)).toBe(22);
    const stays = await db()
      .select({ id: reading.id })
      .from(reading)
      .where(inArray(reading.id, ids.slice(0, 5)));
    expect(stays.map(({ id }) => id).sort()).toEqual(ids.slice(0, 2).sort());
    expect((await checkLedger(db())).faults).toEqual([]);
    const [row] = await db().select().from(purgedUnit).where(eq(purgedUnit.unitId, kept));
    expect(row).toMatchObject({ entry: purged.entry, readings: 3, payloads: 25 });
    await approve(defaultRetention);
  });

  it('leaves the verdict in force, and takes those that it replaced', async () => {
    const { kept, approve, purge } = await setUp();
    const { version, ...values } = defaultLimits;
    const words = { source: 'the defaults', reason: 'first', effectiveFrom: '2020-01-01' };
    await db()
      .insert(limitSet)
      .values({ version, values, ...words, state: 'approved', proposedAt: now })
      .onConflictDoNothing();
    const judged = (isCurrent: boolean, days: number) => ({
      unitId: kept,
      isCurrent,
      mark: 'Holding' as const,
      asOf: '2020-01-01',
      knownTo: 0,
      limitsVersion: version,
      methodVersion: '1',
      assessment: {} as (typeof verdict.$inferInsert)['assessment'],
      judgedAt: daysAgo(days),
      why: 'sound',
    });
    await db()
      .insert(verdict)
      .values([judged(true, 2_000), judged(false, 2_100), judged(false, 100)]);
    await approve({ ...defaultRetention, yearsOfVerdicts: 1 });
    expect((await purge()).counts).toMatchObject({ verdicts: 1 });
    const rest = await db().select().from(verdict).where(eq(verdict.unitId, kept));
    expect(rest.map(({ isCurrent }) => isCurrent).sort()).toEqual([false, true]);
    await approve(defaultRetention);
  });

  it('keeps the application itself from taking anything, and tells a payload that no policy took', async () => {
    const { kept, read } = await setUp();
    await read(kept, daysAgo(10));
    const [row] = await db().select().from(ledgerEntry).where(eq(ledgerEntry.unitId, kept));
    const entry = row?.entry ?? 0;
    const remove = () => db().delete(ledgerPayload).where(eq(ledgerPayload.entry, entry));
    await expect(remove()).rejects.toThrow();
    await expect(db().delete(purgedUnit).where(isNull(purgedUnit.unitId))).rejects.toThrow();
    const stolen = db().transaction(async (tx) => {
      await tx.execute('set local role none');
      await tx.delete(ledgerPayload).where(and(eq(ledgerPayload.entry, entry)));
      expect((await checkLedger(tx)).faults).toEqual([{ entry, fault: 'payload missing' }]);
      throw new Error('put back');
    });
    await expect(stolen).rejects.toThrow('put back');
  });
});
