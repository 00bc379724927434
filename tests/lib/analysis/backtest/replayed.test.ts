import { describe, expect, it } from 'vitest';
import { outcomesOf, replayForecasts } from '@/lib/analysis/backtest/replay-forecasts';
import { type JudgedSegment, scoreForecasts } from '@/lib/analysis/backtest/score-forecasts';
import { defaultFleetPrior } from '@/lib/analysis/fleet-prior';
import { assessWear } from '@/lib/analysis/wear';
import { toKilopascals } from '@/lib/measure';

const psi = (value: number) => toKilopascals(value, 'psi');
const limit = psi(10);

describe('a replay', () => {
  const points = [13, 12.9, 9, 12.5, 12, 11.4, 10.9].map((idle, k) => ({
    day: 100 + 91 * k,
    idleSle: psi(idle),
  }));
  const other = { ...defaultFleetPrior, noise: 0.35 };

  it('says at each visit what the history up to it says', () => {
    const priorOn = (day: number) => (day < 400 ? defaultFleetPrior : other);
    const replayed = replayForecasts(points, priorOn, limit);
    const whole = assessWear(points, other, limit).hindsight();
    replayed.forEach((visit, k) => {
      const { day } = points[k]!;
      const then = assessWear(points.slice(0, k + 1), priorOn(day), limit);
      const passage = then.passage(limit, { asOf: day, nextReadingOn: null, horizonDays: 91 });
      expect(visit).toEqual({
        ...{ day, count: k + 1, score: then.score },
        probabilityWithin1Year: then.probabilityWithin1Year,
        asksReread: then.steps.at(-1)!.asksReread,
        errorInHindsight: expect.closeTo(whole[k]!, 9),
        ...{ earliest90: passage.earliest90, earliest80: passage.earliest80 },
        ...{ median: passage.median, latest80: passage.latest80, latest90: passage.latest90 },
      });
    });
    expect(replayed.some(({ asksReread }) => asksReread)).toBe(true);
    expect(replayed.at(-1)!.median).not.toBeNull();
  });

  it('says nothing at a reading that is no number, and the same as without it after', () => {
    const priorOn = () => defaultFleetPrior;
    const [first, ...rest] = replayForecasts(
      [{ day: 9, idleSle: Number.NaN }, ...points],
      priorOn,
      limit,
    );
    expect(first).toEqual({
      ...{ day: 9, count: 0, score: 0, probabilityWithin1Year: 0 },
      ...{ asksReread: false, errorInHindsight: 0, median: null },
      ...{ earliest90: null, earliest80: null, latest80: null, latest90: null },
    });
    expect(rest).toEqual(replayForecasts(points, priorOn, limit));
  });

  it('takes a second reading of a day into the visit', () => {
    const twice = [...points.slice(0, 3), { ...points[2]!, idleSle: psi(12.8) }];
    const outcomes = outcomesOf(twice, () => defaultFleetPrior, limit);
    expect(outcomes.map(({ count }) => count)).toEqual([1, 2, 3, 3]);
    expect(outcomes[3]!.score).toBe(assessWear(twice, defaultFleetPrior, limit).score);
    expect(replayForecasts([], () => defaultFleetPrior, limit)).toEqual([]);
  });
});

describe('scoreForecasts, by hand', () => {
  const visit = (day: number, count: number, more: Partial<JudgedSegment['visits'][number]>) => ({
    ...{ day, count, score: 0.01, probabilityWithin1Year: 0.01 },
    ...{ asksReread: false, errorInHindsight: 0, median: null },
    ...{ earliest90: null, earliest80: null, latest80: null, latest90: null },
    ...more,
  });
  const segment = (
    visits: JudgedSegment['visits'],
    more: Partial<JudgedSegment>,
  ): JudgedSegment => ({
    ...{ unit: 'U1', visits, points: [], isInError: visits.map(() => false) },
    ...{ isStable: false, isSudden: false, crossing: null, crossedInService: false },
    ...more,
  });

  it('counts sound readings asked again and rejected, none that was in error', () => {
    const visits = [
      visit(0, 1, {}),
      visit(9, 2, { asksReread: true, errorInHindsight: 0.5 }),
      visit(18, 3, { asksReread: true, errorInHindsight: 0.51 }),
      visit(27, 4, { asksReread: true, errorInHindsight: 0.9 }),
    ];
    const isInError = [false, false, false, true];
    expect(scoreForecasts([segment(visits, { isInError })])).toMatchObject({
      ...{ soundReadings: 3, soundAskedAgain: 2 / 3, soundRejected: 1 / 3 },
    });
  });

  it('counts an open end as ten years, and a forecast that begins too late as a miss', () => {
    const flagged = { score: 0.18, earliest90: 250 };
    const visits = [
      visit(0, 4, { ...flagged, earliest80: 260 }),
      visit(100, 5, { ...flagged, earliest80: 300, latest80: 700, latest90: 350 }),
      visit(200, 6, { ...flagged, earliest80: 301, latest90: 299 }),
      visit(290, 3, { score: 0.9 }),
      visit(295, 8, { score: 0.1799 }),
    ];
    const scores = scoreForecasts([segment(visits, { crossing: 300 })]);
    expect(scores).toMatchObject({ flaggedForecasts: 3, coverage80: 2 / 3, coverage90: 2 / 3 });
    // Widths 3650 - 260, 400 and 200 + 3650 - 301; not in service, so no crossing to foretell.
    expect(scores).toMatchObject({ width80: 3390, crossings: 0, flaggedBefore: null });
  });

  it('foretells gradual crossings in service with four visits before', () => {
    const visits = [0, 100, 200, 300].map((day, k) =>
      visit(day, k + 1, k === 3 ? { score: 0.5, median: 420 } : {}),
    );
    const crossed = { crossing: 400, crossedInService: true };
    const scored = (more: Partial<JudgedSegment>, seen = visits) =>
      scoreForecasts([segment(seen, { ...crossed, ...more })]);
    // Flagged 100 days ahead; half way is day 350, where the median errs by 20 of 100 days left.
    expect(scored({})).toMatchObject({
      ...{ crossings: 1, flaggedBefore: 1, flagged90DaysAhead: 1, alphaLambda: 1 },
      ...{ prognosticHorizon: 100, medianAbsoluteError: [20, null, null] },
    });
    expect(scored({ crossing: 389 })).toMatchObject({ flaggedBefore: 1, flagged90DaysAhead: 0 });
    expect(scored({ isSudden: true }).crossings).toBe(0);
    expect(scored({ crossedInService: false }).crossings).toBe(0);
    expect(scored({}, visits.slice(1)).crossings).toBe(0);
    expect(scored({ crossing: 300 }).crossings).toBe(0);
  });
});
