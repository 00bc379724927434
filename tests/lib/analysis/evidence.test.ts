import { describe, expect, it } from 'vitest';
import { assessUnit } from '@/lib/analysis/assess-unit';
import { evidenceOf } from '@/lib/analysis/evidence';
import { lossOver } from '@/lib/analysis/hold-loss';
import type { Fitment, Part } from '@/lib/analysis/reading';
import { beltOn, byDayThenEntry, readingsAfter, segmentsOf } from '@/lib/analysis/segments';
import { aUnit, fitted, psi, quarterly, readingOn } from '../../support/a-unit';

const asOf = 20_000;

describe('segments', () => {
  const starts = (...fitments: (readonly [Part, number | null])[]) =>
    segmentsOf(
      fitments.map(([part, on]) => fitted(part, on)),
      asOf,
    ).map(({ start, part }) => [start, part]);

  it('begin with a part that changes the source of vacuum, in order of day', () => {
    expect(starts()).toEqual([[null, null]]);
    expect(starts(['line', 300], ['belt', 200], ['pump', 100])).toEqual([
      [null, null],
      [100, 'pump'],
      [300, 'line'],
    ]);
    expect(starts(['pump', null], ['pump', asOf], ['pump', asOf + 1])).toEqual([
      [null, null],
      [asOf, 'pump'],
    ]);
  });

  it('are one a day, named by the first part of the list', () => {
    for (const parts of [
      ['line', 'booster', 'check valve'],
      ['booster', 'line', 'check valve'],
    ] as const)
      expect(starts(...parts.map((part) => [part, 100] as const))).toEqual([
        [null, null],
        [100, 'booster'],
      ]);
  });

  it('readings come by day, then entry, then id', () => {
    const at = (readOn: number, entry: number, id: string) => ({ readOn, entry, id });
    const ordered = [at(1, 5, 'z'), at(2, 0, 'y'), at(2, 1, 'a'), at(2, 1, 'b'), at(3, 0, 'a')];
    expect([3, 0, 4, 2, 1].map((k) => ordered[k]!).sort(byDayThenEntry)).toEqual(ordered);
    expect(byDayThenEntry(ordered[0]!, ordered[0]!)).toBe(0);
  });

  it('of the day of a fitting only the last reading counts', () => {
    const readings = [9, 10, 10, 11].map((readOn, entry) => ({ readOn, entry }));
    expect(readingsAfter(readings, 10).map(({ entry }) => entry)).toEqual([2, 3]);
    expect(readingsAfter(readings, 12)).toEqual([]);
    expect(readingsAfter(readings, null)).toBe(readings);
  });

  it('the belt is the newest one fitted and not removed', () => {
    const belt = (fittedOn: number | null, removedOn: number | null = null): Fitment => ({
      ...fitted('belt', fittedOn),
      removedOn,
    });
    expect(beltOn([], asOf)).toBeNull();
    expect(beltOn([fitted('pump', 100)], asOf)).toBeNull();
    expect(beltOn([belt(100), belt(300), belt(200)], asOf)).toEqual(belt(300));
    expect(beltOn([belt(null), belt(100)], asOf)).toEqual(belt(100));
    expect(beltOn([belt(100), belt(null)], asOf)).toEqual(belt(100));
    expect(beltOn([belt(null)], asOf)).toEqual(belt(null));
    expect(beltOn([belt(100), belt(300, asOf)], asOf)).toEqual(belt(100));
    expect(beltOn([belt(300, asOf + 1)], asOf)).toEqual(belt(300, asOf + 1));
    expect(beltOn([belt(asOf), belt(asOf + 1)], asOf)).toEqual(belt(asOf));
  });
});

describe('evidence', () => {
  it('is what was on record by the day, in order, each reading once', () => {
    const known = [readingOn(100), readingOn(100, { entry: 1 }), readingOn(asOf)];
    const readings = [known[2]!, known[1]!, known[0]!, { ...known[0]!, idle: psi(5) }];
    const { sound } = evidenceOf(aUnit({ readings: [...readings, readingOn(asOf + 1)] }));
    expect(sound.map(({ id }) => id)).toEqual(known.map(({ id }) => id));
    expect(sound[0]!.idle).toBe(psi(13));
  });

  it('has an odometer of every reading that gives one, sound or not', () => {
    const readings = [
      readingOn(100, { odometer: 500 }),
      readingOn(200),
      readingOn(300, { odometer: 900, idle: psi(20) }),
    ];
    const { odometers, setAside } = evidenceOf(aUnit({ readings }));
    expect(setAside).toHaveLength(1);
    expect(odometers).toEqual([
      { readingId: 'r100', day: 100, odometer: 500 },
      { readingId: 'r300', day: 300, odometer: 900 },
    ]);
  });

  it('knows the newest closing, a release before an order of the same day, none after the day', () => {
    const closing = (releasedOn: number | null, vacuumOrderClosedOn?: number | null) =>
      evidenceOf(aUnit({ releasedOn, vacuumOrderClosedOn, fitments: [fitted('pump', 150)] }))
        .closing;
    const at = (closedOn: number, isRelease: boolean) => ({
      closedOn,
      isRelease,
      proofReadingIds: [],
    });
    expect(closing(null, null)).toBeNull();
    expect(closing(200, null)).toEqual(at(200, true));
    expect(closing(null, 300)).toEqual(at(300, false));
    expect(closing(200, 300)).toEqual(at(300, false));
    expect(closing(300, 300)).toEqual(at(300, true));
    expect(closing(asOf, asOf + 1)).toEqual(at(asOf, true));
    expect(closing(asOf + 1, null)).toBeNull();
    // Where no orders are kept, a repair closes.
    expect(closing(null, undefined)).toEqual(at(150, false));
  });

  it('takes a loss over another time in proportion where nothing decays', () => {
    expect(lossOver(60, { loss: 2, held: 120, from: null })).toBe(1);
    expect(lossOver(60, { loss: 2, held: 120, from: 0 })).toBe(1);
    expect(lossOver(60, { loss: 2, held: 120, from: -5 })).toBe(1);
  });
});

describe('what an assessment tells', () => {
  const newest = readingOn(asOf - 10, {
    odometer: 90_000,
    raised: psi(13.2),
    technician: 'T2',
  });
  const readings = [...quarterly(asOf - 101, [13, 13.1, 12.9, 13]), newest];
  const told = (change: Parameters<typeof aUnit>[0] = {}) =>
    assessUnit(aUnit({ readings, ...change }));

  it('the newest reading, whole', () => {
    expect(told().latest).toEqual({
      readingId: newest.id,
      readOn: asOf - 10,
      daysAgo: 10,
      technician: 'T2',
      ambient: 101.325,
      idle: psi(13),
      idleSle: psi(13),
      raised: psi(13.2),
      lowest: psi(10.5),
      lowestSle: psi(10.5),
      recovery: 8,
      holdLoss: psi(0.1),
      holdTime: 60,
      line: 'dry',
      pedal: 'normal',
      belt: 'sound',
      odometer: 90_000,
      isUnconfirmed: false,
    });
    expect(told({ readings: [] })).toMatchObject({ latest: null, readingCount: 0, mark: 'Unread' });
  });

  it('how many readings, and how many since the repair', () => {
    const after = told({
      fitments: [fitted('pump', asOf - 150)],
      readings: [...readings, readingOn(asOf - 10, { entry: 1 })],
    });
    expect(after).toMatchObject({
      readingCount: 6,
      segmentReadingCount: 3,
      segmentStart: asOf - 150,
      segmentPart: 'pump',
    });
    const none = told({ fitments: [fitted('pump', asOf - 1)] });
    expect(none).toMatchObject({ readingCount: 5, segmentReadingCount: 0 });
    expect([none.wear.whyNone, none.stop.whyNone]).toEqual([
      'no reading since the repair',
      'no reading since the repair',
    ]);
    expect(told({ readings: [] }).wear.whyNone).toBe('no reading');
    expect(none.forecast).toEqual([]);
  });

  it('a forecast from the newest reading on, where it is charted', () => {
    expect(told().forecast).toEqual([]);
    const charted = told({ isForecastCharted: true }).forecast;
    expect(charted.length).toBeGreaterThan(2);
    expect(charted[0]!.day).toBeGreaterThanOrEqual(asOf - 10);
    expect(told({ isForecastCharted: undefined }).forecast).toEqual(charted);
    expect(told({ isForecastCharted: true, readings: [] }).forecast).toEqual([]);
  });

  it('whether it may go out, and what to do first where it is laid up or gone', () => {
    expect(told()).toMatchObject({
      mark: 'Holding',
      mayGoOut: true,
      whatChangesItBack: 'Nothing to change: read again when due.',
    });
    const away = { mark: null, mayGoOut: false, whatChangesItBack: 'Read before use again.' };
    expect(told({ laidUpOn: asOf })).toMatchObject({ ...away, standing: 'laid up' });
    expect(told({ laidUpOn: asOf, leftFleetOn: asOf })).toMatchObject({
      ...away,
      standing: 'left the fleet',
    });
    expect(told({ laidUpOn: asOf + 1, leftFleetOn: null }).standing).toBe('in use');
    const stopped = told({ readings: [readingOn(asOf, { line: 'wet' })] });
    expect(stopped).toMatchObject({ mark: 'Out of service', mayGoOut: false, earliestEdge: asOf });
  });
});
