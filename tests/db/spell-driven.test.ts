import { randomUUID } from 'node:crypto';
import { and, eq } from 'drizzle-orm';
import { expect, it } from 'vitest';
import type { Db } from '@/db/client';
import { openSpells } from '@/db/reads/open-spells';
import { spellsEndedSince } from '@/db/reads/spells-ended-since';
import { jobTemplate, ledgerEntry, workTask } from '@/db/schema';
import { acknowledgeDriving } from '@/db/writes/acknowledge-driving';
import { amendReading } from '@/db/writes/amend-reading';
import { certifyRepair } from '@/db/writes/certify-repair';
import { finishWorkOrder } from '@/db/writes/finish-work-order';
import { beginWorkOrder } from '@/db/writes/move-work-order';
import { noteOdometer } from '@/db/writes/note-odometer';
import { raiseWorkOrder } from '@/db/writes/raise-work-order';
import { recordReading } from '@/db/writes/record-reading';
import { releaseUnit } from '@/db/writes/release-unit';
import { standDown } from '@/db/writes/stand-down';
import { AccessDenied } from '@/lib/access';
import { toKilometres } from '@/lib/measure';
import type { OdometerSource } from '@/lib/stand-down/odometer-sources';
import { onEachDatabase } from '../support/databases';
import { soundPayload } from '../support/sound-payload';
import { makeFixture, putReading } from '../support/tarn-fixture';

const at = (hours: number) => new Date(Date.UTC(2026, 0, 5, 15) + hours * 3_600_000);
const miles = (value: number) => toKilometres(value, 'mi');

/** A unit that stands at 50,000 miles and has been out of service since hour 0. */
async function unitOut(db: Db, readBefore: number) {
  const fixture = await makeFixture(db);
  const [unitId] = fixture.unitIds as [string];
  const technician = await fixture.person('technician');
  const officer = await fixture.person('safety officer');
  const readBeforeId = await putReading(
    db,
    { unitId, shedId: fixture.shedId, by: technician.personId, on: at(-readBefore) },
    { odometerKm: miles(50_000) },
  );
  await standDown(db, { actor: officer, unitId, cause: 'other', note: null, now: at(0) });
  const seen = async (odometer: number, seenOn: OdometerSource, hours: number) => {
    const noted = await noteOdometer(db, {
      actor: technician,
      unitId,
      odometer: miles(odometer),
      seenOn,
      now: at(hours),
    });
    expect(noted.ok).toBe(true);
  };
  const read = async (odometer: number, hours: number) => {
    const payload = soundPayload(unitId, technician.personId);
    const recorded = await recordReading(db, {
      actor: technician,
      payload: {
        ...payload,
        readAt: at(hours).toISOString(),
        keyed: { ...payload.keyed, odometer: { value: String(odometer), unit: 'mi' } },
      },
      now: at(hours),
    });
    expect(recorded.ok).toBe(true);
    return payload.id;
  };
  const amend = async (readingId: string, odometer: number, hours: number) => {
    const amended = await amendReading(db, {
      actor: officer,
      amendmentId: randomUUID(),
      readingId,
      keyed: { odometer: { value: String(odometer), unit: 'mi' } },
      seen: {},
      reason: 'read the trip counter',
      now: at(hours),
    });
    expect(amended).toMatchObject({ ok: true, value: { state: 'approved' } });
  };
  const work = async (odometer: number, hours: number) => {
    await db
      .insert(jobTemplate)
      .values({ kind: 'pump', title: 'Pump', hours: 2, tools: [], partNumbers: [], steps: [] })
      .onConflictDoNothing();
    const raised = await raiseWorkOrder(db, {
      actor: technician,
      unitId,
      why: 'hard pedal',
      raisedFrom: 'spell',
      taskKinds: ['pump'],
      now: at(hours),
    });
    if (!raised.ok) throw new Error(JSON.stringify(raised.error));
    const { id: orderId, version, number } = raised.value;
    const moved = { actor: technician, orderId, now: at(hours) };
    const begun = await beginWorkOrder(db, { ...moved, seenVersion: version });
    if (!begun.ok) throw new Error(begun.error);
    const tasks = await db.select().from(workTask).where(eq(workTask.workOrderId, orderId));
    const finished = await finishWorkOrder(db, {
      ...moved,
      seenVersion: begun.value.version,
      tasks: tasks.map(({ id }) => ({ taskId: id, state: 'done' as const, struckWhy: null })),
      fitted: [],
      foundCause: 'pump',
      odometer: miles(odometer),
    });
    if (!finished.ok) throw new Error(JSON.stringify(finished.error));
    return number;
  };
  const told = async () => (await openSpells(db, officer, unitId))[0]?.driven ?? [];
  const prompt = async () => (await told()).at(-1) ?? null;
  const entries = async () =>
    (
      await db
        .select({ entry: ledgerEntry.entry })
        .from(ledgerEntry)
        .where(
          and(eq(ledgerEntry.unitId, unitId), eq(ledgerEntry.kind, 'driven while out of service')),
        )
    ).map(({ entry }) => entry);
  return {
    fixture,
    unitId,
    officer,
    technician,
    readBeforeId,
    seen,
    read,
    amend,
    work,
    told,
    prompt,
    entries,
  };
}

// 5 miles for a road test: own choice.
onEachDatabase('a unit driven while it is out of service', (db) => {
  it('is told by a reading', async () => {
    const { read, prompt, entries } = await unitOut(db(), 1);
    await read(50_004, 1);
    expect(await prompt()).toBeNull();
    await read(50_020, 2);
    expect(await prompt()).toMatchObject({ seenBy: 'reading' });
    expect((await prompt())?.kilometres).toBeCloseTo(miles(20), 6);
    expect(await entries()).toEqual([(await prompt())?.entry]);
  });

  it('is told by a work order', async () => {
    const { work, prompt, entries } = await unitOut(db(), 1);
    const number = await work(50_012, 2);
    expect(await prompt()).toMatchObject({ seenBy: `work order ${number}` });
    expect(await entries()).toHaveLength(1);
  });

  it('is told by the odometer of a trip sheet', async () => {
    const { seen, prompt, entries } = await unitOut(db(), 1);
    await seen(50_003, 'trip sheet', 1);
    expect(await prompt()).toBeNull();
    await seen(50_031, 'trip sheet', 2);
    expect(await prompt()).toMatchObject({ seenBy: 'trip sheet' });
    expect(await entries()).toHaveLength(1);
  });

  it('may go 5 miles for each road test that was logged', async () => {
    const { seen, read, prompt } = await unitOut(db(), 1);
    await seen(50_005, 'road test', 1);
    await seen(50_009, 'road test', 2);
    await read(50_010, 3);
    expect(await prompt()).toBeNull();
    await read(50_011, 4);
    expect(await prompt()).toMatchObject({ seenBy: 'reading' });
  });

  it('is not accused of what it did before it went out', async () => {
    const { seen, read, prompt } = await unitOut(db(), 80 * 24);
    await read(52_600, 1);
    expect(await prompt()).toBeNull();
    await seen(52_640, 'where it stands', 2);
    expect((await prompt())?.kilometres).toBeCloseTo(miles(40), 6);
  });

  it('is told by an odometer that was amended', async () => {
    const { read, amend, prompt, entries } = await unitOut(db(), 1);
    const readingId = await read(50_004, 1);
    expect(await prompt()).toBeNull();
    await amend(readingId, 50_040, 2);
    expect(await prompt()).toMatchObject({ seenBy: 'amended reading', acknowledged: null });
    expect((await prompt())?.kilometres).toBeCloseTo(miles(40), 6);
    expect(await entries()).toEqual([(await prompt())?.entry]);
  });

  it('is told where the odometer that it is counted from was amended', async () => {
    const { readBeforeId, read, amend, prompt } = await unitOut(db(), 1);
    await read(50_004, 1);
    await amend(readBeforeId, 49_980, 2);
    expect(await prompt()).toMatchObject({ seenBy: 'amended reading' });
    expect((await prompt())?.kilometres).toBeCloseTo(miles(24), 6);
  });

  it('is told once for each distance, however often its odometer is read', async () => {
    const { seen, read, amend, told } = await unitOut(db(), 1);
    const readingId = await read(50_020, 1);
    await seen(50_021, 'where it stands', 2);
    await amend(readingId, 50_019, 3);
    expect(await told()).toHaveLength(1);
    await seen(50_027, 'trip sheet', 4);
    expect(await told()).toMatchObject([{ seenBy: 'reading' }, { seenBy: 'trip sheet' }]);
  });

  it('keeps its prompt beside the acknowledgement of a safety officer', async () => {
    const { unitId, officer, technician, read, amend, told } = await unitOut(db(), 1);
    const readingId = await read(50_200, 1);
    await amend(readingId, 50_002, 2);
    const [spell] = await openSpells(db(), officer, unitId);
    const drivenEntry = (await told())[0]?.entry ?? 0;
    const acknowledge = (change = {}) =>
      acknowledgeDriving(db(), {
        actor: officer,
        spellId: spell?.row.id ?? '',
        drivenEntry,
        note: 'Nobody drove it: the odometer was misread.',
        now: at(3),
        ...change,
      });
    await expect(acknowledge({ actor: technician })).rejects.toThrow(AccessDenied);
    expect(await acknowledge({ note: ' ' })).toMatchObject({ error: 'nothing said of who drove' });
    expect(await acknowledge({ drivenEntry: drivenEntry + 1 })).toMatchObject({
      error: 'no such driving',
    });
    expect(await acknowledge()).toEqual({ ok: true, value: null });
    expect(await acknowledge()).toMatchObject({ error: 'acknowledged already' });
    expect(await told()).toMatchObject([
      {
        entry: drivenEntry,
        acknowledged: {
          by: expect.stringContaining(','),
          at: at(3),
          note: 'Nobody drove it: the odometer was misread.',
        },
      },
    ]);
    const acknowledged = await db()
      .select({ by: ledgerEntry.personId })
      .from(ledgerEntry)
      .where(and(eq(ledgerEntry.unitId, unitId), eq(ledgerEntry.kind, 'driving acknowledged')));
    expect(acknowledged).toEqual([{ by: officer.personId }]);
  });

  it('is told of a spell that has ended, where the amendment comes after it', async () => {
    const { fixture, unitId, officer, technician, read, work, amend, told } = await unitOut(
      db(),
      1,
    );
    const certifier = await fixture.person('technician');
    const readingId = await read(50_001, 1);
    await work(50_002, 2);
    await certifyRepair(db(), {
      actor: certifier,
      unitId,
      kind: 'repaired',
      note: 'pump',
      now: at(3),
    });
    await read(50_003, 4);
    const [spell] = await openSpells(db(), officer, unitId);
    const released = await releaseUnit(db(), {
      actor: officer,
      unitId,
      spellId: spell?.row.id ?? '',
      whatWasChecked: 'proof',
      signedInAgainAt: at(5),
      now: at(5),
    });
    expect(released.ok).toBe(true);
    await amend(readingId, 50_030, 6);
    expect(await told()).toEqual([]);
    const [ended] = await spellsEndedSince(db(), technician, at(0));
    expect(ended?.driven).toMatchObject([{ seenBy: 'amended reading', acknowledged: null }]);
  });

  it('has no odometer to note while it is in use', async () => {
    const fixture = await makeFixture(db());
    const [unitId] = fixture.unitIds as [string];
    const actor = await fixture.person('technician');
    expect(
      await noteOdometer(db(), { actor, unitId, odometer: 1, seenOn: 'trip sheet', now: at(0) }),
    ).toEqual({ ok: false, error: 'no open spell' });
  });
});
