import { and, count, eq, isNull } from 'drizzle-orm';
import { expect, it } from 'vitest';
import type { Db } from '@/db/client';
import { baySnapshot } from '@/db/reads/bay-snapshot';
import { readingsOfUnits } from '@/db/reads/readings-of-units';
import { unitSheetReadings } from '@/db/reads/unit-sheet-readings';
import { gauge, ledgerEntry, ledgerPayload, reading, spell, verdict } from '@/db/schema';
import { recordReading } from '@/db/writes/record-reading';
import { AccessDenied, type Actor } from '@/lib/access';
import { judgeOnDevice } from '@/lib/bay-card/judge-on-device';
import type { ReadingPayload } from '@/lib/intake/reading-payload';
import { toKilopascals } from '@/lib/measure';
import { onEachDatabase } from '../support/databases';
import { soundPayload } from '../support/sound-payload';
import { makeFixture } from '../support/tarn-fixture';

const at = (days: number) => new Date(Date.UTC(2026, 0, 5, 15) + days * 86_400_000);
const psi = (value: string) => ({ value, unit: 'psi' as const });

const payloadOf = (
  unitId: string,
  by: Actor,
  keyed: Partial<ReadingPayload['keyed']> = {},
  change: Partial<ReadingPayload> = {},
): ReadingPayload => {
  const sound = soundPayload(unitId, by.personId);
  return { ...sound, keyed: { ...sound.keyed, ...keyed }, confirmed: [], ...change };
};

async function bayOf(db: Db, units = 1) {
  const fixture = await makeFixture(db, units);
  const [unitId] = fixture.unitIds as [string];
  const technician = await fixture.person('technician');
  const record = (payload: ReadingPayload, days = 0, actor: Actor = technician) =>
    recordReading(db, { actor, payload, now: at(days) });
  const rowsOf = async () => {
    const [readings] = await db
      .select({ n: count() })
      .from(reading)
      .where(eq(reading.unitId, unitId));
    const [entries] = await db
      .select({ n: count() })
      .from(ledgerEntry)
      .where(eq(ledgerEntry.unitId, unitId));
    const [verdicts] = await db
      .select({ n: count() })
      .from(verdict)
      .where(eq(verdict.unitId, unitId));
    return { readings: readings?.n, entries: entries?.n, verdicts: verdicts?.n };
  };
  return { fixture, unitId, technician, record, rowsOf };
}

onEachDatabase('readings', (db) => {
  it('from a trace keeps what the trace told, and shows it and its gauge on the unit sheet', async () => {
    const { fixture, unitId, technician, record } = await bayOf(db());
    const gaugeId = `${fixture.shedId}-3`;
    await db()
      .insert(gauge)
      .values({ id: gaugeId, shedId: fixture.shedId, label: 'Logger 3', pressureUnit: 'psi' });
    const trace = {
      timeConstantS: 5.7,
      recoveryToLevelS: null,
      levelKpa: 75.8,
      presses: 4,
      keyOff: 'marked',
      samplesPerSecond: 10,
      noiseKpa: 0.7,
      isCorrected: true,
    } as const;
    const idle = { ...psi('13.08'), from: 'trace' as const };
    const recorded = await record(payloadOf(unitId, technician, { idle }, { trace, gaugeId }));
    expect(recorded.ok).toBe(true);
    const [row] = await db().select().from(reading).where(eq(reading.unitId, unitId));
    expect(row?.keyed.idle).toEqual({ value: '13.08', unit: 'psi', from: 'trace' });
    const [shown] = await unitSheetReadings(db(), unitId);
    expect(shown?.trace).toEqual(trace);
    expect(shown?.counts.gauge).toBe(gaugeId);
  });

  it('judged otherwise than on the device leaves both calls in the ledger', async () => {
    const { unitId, technician, record } = await bayOf(db());
    const callOf = (mark: string) => ({ deviceCall: { mark, heardFromDeskOn: '2026-01-02' } });
    const entries = async () => {
      const isOther = eq(ledgerEntry.kind, 'judged otherwise than on the device');
      const rows = await db()
        .select({ canonical: ledgerPayload.canonical })
        .from(ledgerPayload)
        .innerJoin(ledgerEntry, eq(ledgerEntry.entry, ledgerPayload.entry))
        .where(and(eq(ledgerEntry.unitId, unitId), isOther));
      return rows.map(({ canonical }) => JSON.parse(canonical));
    };
    const hard = { ...callOf('Holding'), pedal: 'went hard' } as const;
    await record(payloadOf(unitId, technician, {}, hard));
    expect(await entries()).toMatchObject([
      { device: { mark: 'Holding' }, desk: { mark: 'Out of service' } },
    ]);
    const alike = { ...callOf('Out of service'), readAt: at(1).toISOString() };
    expect((await record(payloadOf(unitId, technician, {}, alike), 1)).ok).toBe(true);
    expect(await entries()).toHaveLength(1);
  });

  it('sent any number of times, also at once, are recorded once', async () => {
    const { fixture, unitId, technician, record, rowsOf } = await bayOf(db());
    const payload = payloadOf(unitId, technician);
    // Whoever else sends it does not take the answer of the first: the record tells.
    const other = await fixture.person('technician');
    const answers = await Promise.all([
      record(payload),
      record(payload),
      record(payload, 0, other),
    ]);
    answers.push(await record(payload, 1));
    expect(answers.every(({ ok }) => ok)).toBe(true);
    expect(answers.filter((one) => one.ok && !one.value.wasOnRecord)).toHaveLength(1);
    expect(new Set(answers.map((one) => one.ok && one.value.entry)).size).toBe(1);
    expect(await rowsOf()).toMatchObject({ readings: 1 });
  });

  it('under the same id with another payload are refused, and the first stays', async () => {
    const { unitId, technician, record, rowsOf } = await bayOf(db());
    const payload = payloadOf(unitId, technician);
    await record(payload);
    const before = await rowsOf();
    const changed = { ...payload, keyed: { ...payload.keyed, idle: psi('12.9') } };
    expect(await record(changed)).toEqual({ ok: false, error: { kind: 'another payload' } });
    expect(await rowsOf()).toEqual(before);
  });

  it('under one id for two units at once leave one, and the other is refused', async () => {
    const { fixture, technician, record } = await bayOf(db(), 2);
    const [first, second] = fixture.unitIds as [string, string];
    const payload = payloadOf(first, technician);
    const answers = await Promise.all([record(payload), record({ ...payload, unitId: second })]);
    expect(answers.filter(({ ok }) => ok)).toHaveLength(1);
    expect(answers).toContainEqual({ ok: false, error: { kind: 'another payload' } });
    const stored = await db().select().from(reading).where(eq(reading.id, payload.id));
    expect(stored).toHaveLength(1);
  });

  it('past a stop limit open the spell themselves', async () => {
    const { unitId, technician, record } = await bayOf(db());
    await record(payloadOf(unitId, technician, {}, { pedal: 'went hard' }));
    const open = await db()
      .select()
      .from(spell)
      .where(and(eq(spell.unitId, unitId), isNull(spell.releasedAt)));
    expect(open).toMatchObject([
      { cause: 'reading past a stop limit', openedBy: technician.personId },
    ]);
  });

  it('take the hold loss from what was left', async () => {
    const { unitId, technician, record } = await bayOf(db());
    await record(payloadOf(unitId, technician));
    const [stored] = (await readingsOfUnits(db(), [unitId])).get(unitId) ?? [];
    expect(stored?.holdLoss).toBeCloseTo(toKilopascals(0.3, 'psi'), 9);
  });

  it('are refused from other sheds, and from roles that do not read', async () => {
    const { fixture, unitId, technician, record, rowsOf } = await bayOf(db());
    const elsewhere = await (await makeFixture(db())).person('technician');
    for (const actor of [elsewhere, await fixture.person('fleet manager')]) {
      await expect(record(payloadOf(unitId, technician), 0, actor)).rejects.toThrow(AccessDenied);
    }
    expect(await rowsOf()).toEqual({ readings: 0, entries: 0, verdicts: 0 });
  });

  it('keep their signer on a shared device, and a signer who does not read is refused', async () => {
    const { fixture, unitId, technician, record } = await bayOf(db());
    const other = await fixture.person('technician');
    const payload = payloadOf(unitId, other);
    expect(await record(payload, 0, technician)).toMatchObject({ ok: true });
    const [row] = await db().select().from(reading).where(eq(reading.id, payload.id));
    expect(row?.technicianId).toBe(other.personId);
    const manager = await fixture.person('fleet manager');
    expect(await record(payloadOf(unitId, manager), 0, technician)).toMatchObject({
      ok: false,
      error: { kind: 'problems', problems: [{ field: 'signedBy' }] },
    });
  });

  it('that cannot be true leave nothing behind, and name field and mend', async () => {
    const { unitId, technician, record, rowsOf } = await bayOf(db());
    for (const [keyed, field] of [
      [{ idle: psi('25.5') }, 'idle'],
      [{ lowest: psi('14.0') }, 'lowest'],
      [{ heldAfter: psi('13.9') }, 'heldAfter'],
      [{ idle: psi('24,5') }, 'idle'],
    ] as const) {
      const answer = await record(payloadOf(unitId, technician, keyed));
      expect(answer).toMatchObject({ ok: false, error: { kind: 'problems' } });
      if (answer.ok || answer.error.kind !== 'problems') continue;
      expect(answer.error.problems[0]?.field).toBe(field);
      expect(answer.error.problems[0]?.mend).toMatch(/\.$|\?/);
    }
    expect(await rowsOf()).toEqual({ readings: 0, entries: 0, verdicts: 0 });
  });

  it('that are odd are recorded only once someone has let them stand', async () => {
    const { unitId, technician, record, rowsOf } = await bayOf(db());
    await record(payloadOf(unitId, technician));
    const change = { readAt: at(30).toISOString() };
    const lower = { odometer: { value: '120', unit: 'mi' as const } };
    const odd = payloadOf(unitId, technician, lower, change);
    const before = await rowsOf();
    expect(await record(odd, 30)).toMatchObject({
      ok: false,
      error: { kind: 'questions', questions: [{ id: 'odometer' }] },
    });
    expect(await rowsOf()).toEqual(before);
    const confirmed = { ...odd, confirmed: ['odometer: new cluster'] };
    expect(await record(confirmed, 30)).toMatchObject({ ok: true });
  });

  it('keep how far the clock of the device was off', async () => {
    const { unitId, technician } = await bayOf(db());
    const payload = payloadOf(unitId, technician);
    const deviceNow = new Date(at(0).getTime() + 900_000);
    await recordReading(db(), { actor: technician, payload, now: at(0), deviceNow });
    const [row] = await db().select().from(reading).where(eq(reading.id, payload.id));
    expect(row?.clockSkewS).toBe(900);
  });

  it('are judged on the device as the server judges them, from its snapshot', async () => {
    const { unitId, technician, record } = await bayOf(db());
    const person = { ...technician, badge: 'B', pressureUnit: 'psi', distanceUnit: 'mi' } as const;
    const series = ['13.1', '13.0', '12.2', '9.4', '6.1'];
    for (const [k, idle] of series.entries()) {
      const days = 91 * k;
      const readAt = at(days).toISOString();
      const lowest = psi((Number(idle) * 0.8).toFixed(1));
      const odometer = { value: String(50_000 + 3_000 * k), unit: 'mi' as const };
      const payload = payloadOf(
        unitId,
        technician,
        { idle: psi(idle), lowest, heldAfter: psi(idle), odometer },
        { readAt, confirmed: ['unit of measure'] },
      );
      const snapshot = await baySnapshot(db(), person, at(days));
      const unit = snapshot.units.find(({ id }) => id === unitId);
      if (!unit) throw new Error('the unit is in the snapshot of its shed');
      const device = judgeOnDevice(JSON.parse(JSON.stringify(snapshot)), unit, [payload], at(days));
      const server = await record(payload, days);
      expect(server).toMatchObject({ ok: true });
      expect(device?.assessment.mark).toBe(server.ok && server.value.verdict.mark);
      expect(device?.assessment.wear).toEqual(
        server.ok && JSON.parse(JSON.stringify(server.value.verdict.assessment.wear)),
      );
    }
  });
});
