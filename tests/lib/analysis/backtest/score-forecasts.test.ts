import { describe, expect, it } from 'vitest';
import { scenarios } from '@/lib/analysis/backtest/fleet-scenarios';
import { replayForecasts } from '@/lib/analysis/backtest/replay-forecasts';
import { type JudgedSegment, scoreForecasts } from '@/lib/analysis/backtest/score-forecasts';
import { simulateFleet } from '@/lib/analysis/backtest/simulate-fleet';
import { learnFleetPrior } from '@/lib/analysis/fleet-prior';
import { toKilopascals } from '@/lib/measure';

const limit = toKilopascals(10, 'psi');

const visit = (day: number, count: number, score: number, median: number | null) => ({
  ...{ day, count, score, median, probabilityWithin1Year: score },
  ...{ asksReread: false, errorInHindsight: 0 },
  earliest90: median && median - 100,
  earliest80: median && median - 50,
  latest80: median && median + 50,
  latest90: median && median + 100,
});
const segment = (visits: JudgedSegment['visits'], more: Partial<JudgedSegment>): JudgedSegment => ({
  ...{ unit: 'U1', visits, isStable: false, isSudden: false, crossing: null },
  crossedInService: false,
  points: visits.map(({ day }) => ({ day, idleSle: 80 })),
  isInError: visits.map(() => false),
  ...more,
});

describe('scoreForecasts, by hand', () => {
  const wearing = segment(
    [
      visit(0, 3, 0.9, null),
      visit(100, 4, 0.1, null),
      visit(200, 5, 0.3, 470),
      visit(300, 6, 0.5, 420),
      visit(400, 7, 0.9, 480),
      visit(520, 8, 1, 520),
    ],
    { crossing: 500, crossedInService: true },
  );
  const stable = segment(
    [0.2, 0.01, 0.2, 0.3, 0.3].map((score, k) => visit(100 + k * 365.25, k + 4, score, null)),
    { isStable: true },
  );
  const scored = () => scoreForecasts([wearing, stable]);

  it('counts flagged forecasts before the crossing, and whether they held it', () => {
    expect(scored()).toMatchObject({ flaggedForecasts: 3, coverage80: 2 / 3, coverage90: 1 });
    expect(scored().width80).toBe(100);
  });

  it('counts a false alarm once, when it goes up', () => {
    expect(scored()).toMatchObject({ stableYears: 4, falseAlarmsPer1000Years: 500 });
    expect(scoreForecasts([wearing])).toMatchObject({
      ...{ stableYears: 0, falseAlarmsPer1000Years: null },
    });
  });

  it('measures lead, errors and horizon', () => {
    expect(scored()).toMatchObject({ crossings: 1, flaggedBefore: 1, flagged90DaysAhead: 1 });
    expect(scored().medianAbsoluteError).toEqual([20, 80, 30]);
    expect(scored().prognosticHorizon).toBe(300);
    // Half way from day 200 to 500 is day 350; the visit of day 300 errs by 80 with 200 days left.
    expect(scored().alphaLambda).toBe(0);
  });

  it('has no figure where there is nothing to score', () => {
    const { flaggedForecasts, stableYears, crossings, soundReadings, ...figures } = scoreForecasts(
      [],
    );
    expect([flaggedForecasts, stableYears, crossings, soundReadings]).toEqual([0, 0, 0, 0]);
    expect(new Set(Object.values(figures).flat())).toEqual(new Set([null]));
  });

  /** One segment that crossed on day 500, gradually and in service. */
  const crossedAfter = (...visits: JudgedSegment['visits']) =>
    scoreForecasts([segment(visits, { crossing: 500, crossedInService: true })]);

  it('holds a crossing on the last day of an interval, and none where the interval never begins', () => {
    const flagged = visit(0, 4, 0.5, null);
    expect(crossedAfter({ ...flagged, earliest80: 400, latest80: 500 }).coverage80).toBe(1);
    expect(crossedAfter({ ...flagged, earliest80: 400, latest80: 499 }).coverage80).toBe(0);
    // Both ends open count as ten years each, 3650 - 3650, and hold nothing.
    expect(crossedAfter(flagged)).toMatchObject({ coverage80: 0, coverage90: 0, width80: 0 });
  });

  it('counts a crossing that was never flagged, by ten years in error and with no horizon', () => {
    const unseen = [0, 100, 200, 300].map((day, k) => visit(day, k + 4, 0.1, null));
    expect(crossedAfter(...unseen)).toMatchObject({
      ...{ crossings: 1, flaggedBefore: 0, flagged90DaysAhead: 0, alphaLambda: null },
      ...{ medianAbsoluteError: [3650, 3650, 3650], prognosticHorizon: 0 },
    });
  });

  it('takes 90 days themselves for ahead and within the band, back to the first visit', () => {
    // Flagged on day 410, 90 days before; the first median errs by 90 days, the others by less.
    const medians = [410, 480, 500, 590];
    const close = [0, 100, 200, 410].map((day, k) =>
      visit(day, k + 1, day < 410 ? 0.1 : 0.9, medians[k]!),
    );
    expect(crossedAfter(...close)).toMatchObject({ flagged90DaysAhead: 1, prognosticHorizon: 500 });
    const wide = close.map((one) => ({ ...one, median: 591 }));
    expect(crossedAfter(...wide).prognosticHorizon).toBe(0);
  });

  it('asks at half way itself, within a fifth of the time then left', () => {
    // Half way from day 100 to 500 is day 300; 200 days are left, a fifth of them is 40.
    const withMedians = (medians: readonly number[]) =>
      crossedAfter(...[100, 200, 300, 301].map((day, k) => visit(day, k + 4, 0.5, medians[k]!)))
        .alphaLambda;
    expect(withMedians([900, 900, 540, 900])).toBe(1);
    expect(withMedians([900, 900, 460, 900])).toBe(1);
    expect(withMedians([500, 500, 541, 500])).toBe(0);
  });
});

describe('a simulated fleet, learnt from another of its kind', () => {
  // Targets of our own for fleets with other parameters; the crossings are known to the simulator.
  it.each(['A', 'H'])(
    'scenario %s: intervals hold, crossings are foreseen, stable units are left in peace',
    (letter) => {
      const scenario = { ...scenarios[letter]!, units: 80 };
      const prior = learnFleetPrior(simulateFleet(scenario, 51).map(({ points }) => points));
      const judged = simulateFleet(scenario, 52).map((known) => ({
        ...known,
        visits: replayForecasts(known.points, () => prior, limit),
      }));
      const scores = scoreForecasts(judged);
      expect(scores.coverage80).toBeGreaterThanOrEqual(0.75);
      expect(scores.coverage90).toBeGreaterThanOrEqual(0.85);
      expect(scores.falseAlarmsPer1000Years).toBeLessThanOrEqual(15);
      expect(scores.flagged90DaysAhead).toBeGreaterThanOrEqual(0.78);
      // 0.005 is the target on fleets of 300; in so small a fleet three readings more would break it.
      expect(scores.soundRejected).toBeLessThanOrEqual(0.008);
    },
    120_000,
  );
});
