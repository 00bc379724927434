import { describe, expect, it } from 'vitest';
import { evidenceOf } from '@/lib/analysis/evidence';
import { defaultLimits as limits } from '@/lib/analysis/limits';
import type { SegmentWear } from '@/lib/analysis/segment-wear';
import {
  belowBaselineFindings,
  scoreFindings,
  unconfirmedFindings,
} from '@/lib/analysis/trend-findings';
import { aUnit, psi, readingOn } from '../../support/a-unit';

/** Wear as the library would tell it, with visits on days 100, 200 and 300. */
const wearOf = (change: Partial<SegmentWear>, levelNow: number | null = psi(12)): SegmentWear =>
  ({
    score: null,
    scoreBefore: null,
    unconfirmedOn: null,
    refutedOn: new Set(),
    outcome: { levelNow, steps: [100, 200, 300].map((day) => ({ day })) },
    ...change,
  }) as unknown as SegmentWear;

describe('the wear score', () => {
  it('speaks from each limit on, by the newest visit or the one before', () => {
    expect(scoreFindings(wearOf({}), limits)).toEqual([]);
    expect(scoreFindings(wearOf({ score: 0.079, scoreBefore: 0.05 }), limits)).toEqual([]);
    expect(scoreFindings(wearOf({ score: 0.08 }), limits)).toEqual([
      { rule: 'wear score rising', value: 0.08, limit: 0.08, on: 300 },
    ]);
    expect(scoreFindings(wearOf({ score: 0.18, scoreBefore: 0.1 }), limits)).toEqual([
      { rule: 'wear score', value: 0.18, limit: 0.18, on: 300 },
    ]);
    expect(scoreFindings(wearOf({ score: 0.05, scoreBefore: 0.17 }), limits)).toEqual([
      { rule: 'wear score rising', value: 0.17, limit: 0.08, on: 200 },
    ]);
    expect(scoreFindings(wearOf({ scoreBefore: 0.3 }), limits)).toMatchObject([{ on: 200 }]);
  });
});

describe('two visits running below the unit’s own start', () => {
  const found = (idles: number[], { since = 0, baseline = psi(13) as number | null } = {}) =>
    belowBaselineFindings(
      evidenceOf(
        aUnit({ readings: idles.map((idle, k) => readingOn(100 * (k + 1), { idle: psi(idle) })) }),
      ).visits,
      baseline,
      limits,
      since,
    );
  const start = [13, 13, 13, 13];

  it('are named with the smaller drop, the later day and both readings', () => {
    expect(found([...start, 12, 12.1])).toEqual([
      {
        rule: 'two below baseline',
        value: expect.closeTo(psi(0.9), 9),
        limit: psi(0.75),
        on: 600,
        readingIds: ['r500', 'r600'],
      },
    ]);
  });

  it('count now and at the visit before, after the three that the start rests on', () => {
    expect(found([...start, 12, 12, 13])).toMatchObject([{ on: 600 }]);
    expect(found([...start, 12, 12, 13, 13])).toEqual([]);
    expect(found([13, 13, 13, 12, 12])).toMatchObject([{ on: 500 }]);
    expect(found([13, 13, 12, 12])).toEqual([]);
  });

  it('say nothing without a start, before the case was closed, or at 0.75 psi itself', () => {
    expect(found([...start, 12, 12], { baseline: null })).toEqual([]);
    expect(found([...start, 12, 12], { since: 500 })).toHaveLength(1);
    expect(found([...start, 12, 12], { since: 501 })).toEqual([]);
    expect(found([...start, 12, 12.3])).toEqual([]);
  });
});

describe('a reading that surprises', () => {
  const { visits } = evidenceOf(
    aUnit({
      readings: [
        readingOn(200),
        readingOn(300, { idle: psi(9), lowest: psi(8) }),
        readingOn(300, { entry: 1, idle: null, lowest: null }),
      ],
    }),
  );

  it('is named beside the level that was expected', () => {
    expect(unconfirmedFindings(wearOf({ unconfirmedOn: 300 }), visits)).toEqual([
      {
        rule: 'unconfirmed reading',
        value: psi(9),
        limit: psi(12),
        on: 300,
        readingIds: ['r300'],
      },
    ]);
  });

  it('is none where none is unconfirmed, or nothing was expected', () => {
    expect(unconfirmedFindings(wearOf({}), visits)).toEqual([]);
    expect(unconfirmedFindings(wearOf({ unconfirmedOn: 400 }), visits)).toEqual([]);
    expect(unconfirmedFindings(wearOf({ unconfirmedOn: 300 }, null), visits)).toEqual([]);
  });
});
