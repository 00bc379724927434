import { beforeAll, expect, it } from 'vitest';
import { forecastRecord } from '@/db/reads/forecast-record';
import { foundCauses } from '@/db/reads/found-causes';
import { gaugeRecord } from '@/db/reads/gauge-record';
import { partHistories } from '@/db/reads/part-histories';
import { fitment, gauge, workOrder } from '@/db/schema';
import type { Actor } from '@/lib/access';
import { partLives } from '@/lib/analysis/life';
import { dayFromIso } from '@/lib/calendar';
import { toKilopascals } from '@/lib/measure';
import { onEachDatabase } from '../support/databases';
import { type Fixture, makeFixture, putReading } from '../support/tarn-fixture';

onEachDatabase('what the fleet learns', (db) => {
  let own: Fixture;
  let manager: Actor;
  let elsewhere: Actor;

  beforeAll(async () => {
    own = await makeFixture(db(), 3);
    const { shedId } = own;
    await db()
      .insert(gauge)
      .values([
        { id: 'dial', shedId, label: 'Dial gauge', pressureUnit: 'psi' },
        { id: 'other', shedId, label: 'Other gauge', pressureUnit: 'psi' },
        { id: 'gone', shedId, label: 'Gone gauge', pressureUnit: 'psi', retiredOn: '2026-01-01' },
      ]);
    manager = await own.person('fleet manager');
    elsewhere = { ...(await own.person('technician')), shedIds: ['another'] };
    const [worn, sound] = own.unitIds as [string, string];
    await db()
      .insert(fitment)
      .values([
        {
          unitId: worn,
          part: 'pump',
          revision: 'A',
          fittedOn: '2024-01-01',
          fittedOdometerKm: 1000,
          removedOn: '2026-03-01',
          removedOdometerKm: 61_000,
          whyRemoved: 'worn',
        },
        {
          unitId: worn,
          part: 'pump',
          revision: 'B',
          fittedOn: '2026-03-01',
          fittedOdometerKm: 61_000,
        },
        { unitId: sound, part: 'belt', revision: 'B4', fittedOn: '2024-01-01' },
      ]);
    const by = (await own.person('technician')).personId;
    const read = (unitId: string, month: number, psi: number, gaugeId: string | null = null) =>
      putReading(
        db(),
        { unitId, shedId: own.shedId, by, on: new Date(Date.UTC(2024, month, 10, 18)) },
        {
          idleVacuumKpa: toKilopascals(psi, 'psi'),
          lowestKpa: toKilopascals(0.8 * psi, 'psi'),
          gaugeId,
        },
      );
    for (const [k, psi] of [13, 12.6, 12, 11.4, 10.6, 9.2, 8.9].entries()) {
      await read(worn, 4 + 3 * k, psi);
    }
    // Read in turn: the other gauge shows half a psi more.
    for (let k = 0; k < 22; k++) {
      const isDial = k % 2 === 0;
      await read(sound, 4 + k, isDial ? 13 : 13.5, isDial ? 'dial' : k === 1 ? 'gone' : 'other');
    }
    const finished = {
      unitId: worn,
      state: 'closed' as const,
      why: 'weak',
      raisedFrom: 'verdict' as const,
      raisedAt: new Date('2026-02-01'),
      finishedBy: by,
      finishedAt: new Date('2026-03-01'),
    };
    await db()
      .insert(workOrder)
      .values([
        { ...finished, predictedCause: 'pump', foundCause: 'pump' },
        { ...finished, predictedCause: 'pump', foundCause: 'pump' },
        { ...finished, predictedCause: 'leak', foundCause: 'check valve' },
        { ...finished, predictedCause: 'leak', foundCause: null },
      ]);
  });

  it('reads the lives of a part, the ended ones as failures with their distance', async () => {
    const lives = partLives('pump', await partHistories(db(), manager, 'pump'), 5);
    const revisions = lives.groups.filter(({ by }) => by === 'revision');
    expect(revisions).toMatchObject([{ name: 'A', lives: 1, failures: 1 }]);
    expect(revisions[0]?.survival[0]).toMatchObject({ time: 60_000, survival: 0 });
    expect(lives.withoutDistance).toBe(1);
  });

  it('counts what was found beside what was said, of finished work alone', async () => {
    expect(await foundCauses(db(), manager)).toEqual([
      { predicted: 'leak', found: 'check valve', orders: 1 },
      { predicted: 'pump', found: 'pump', orders: 2 },
    ]);
  });

  it('replays the histories and finds the limit that was met', async () => {
    const { units, segments, scores } = await forecastRecord(
      db(),
      manager,
      dayFromIso('2026-04-01')!,
    );
    expect({ units, segments }).toEqual({ units: 3, segments: 2 });
    expect(scores.crossings).toBe(1);
    expect(scores.stableYears).toBeGreaterThan(0.5);
    expect(scores.falseAlarmsPer1000Years).toBe(0);
  });

  it('compares the gauges in use over the visits of the same unit', async () => {
    const { gauges } = await gaugeRecord(db(), manager, dayFromIso('2026-04-01')!);
    expect(gauges).toMatchObject([
      {
        gauge: 'dial',
        others: ['Gone gauge', 'Other gauge'],
        comparisons: 10,
        isDoubtful: true,
        offset: expect.closeTo(toKilopascals(-0.5, 'psi'), 9),
      },
      {
        gauge: 'other',
        label: 'Other gauge',
        others: ['Dial gauge'],
        isDoubtful: true,
        offset: expect.closeTo(toKilopascals(0.5, 'psi'), 9),
      },
    ]);
    expect((await gaugeRecord(db(), elsewhere, dayFromIso('2026-04-01')!)).gauges).toEqual([]);
  });

  it('shows nobody another shed', async () => {
    expect(await partHistories(db(), elsewhere, 'pump')).toEqual([]);
    expect(await foundCauses(db(), elsewhere)).toEqual([]);
  });
});
