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
    [visit(0, 4, 0.2, null), visit(365.25, 5, 0.3, null), visit(730.5, 6, 0.01, null)],
    { isStable: true },
  );
  const scores = scoreForecasts([wearing, stable]);

  it('counts flagged forecasts before the crossing, and whether they held it', () => {
    expect(scores).toMatchObject({ flaggedForecasts: 3, coverage80: 2 / 3, coverage90: 1 });
    expect(scores.width80).toBe(100);
  });

  it('counts a false alarm once, when it goes up', () => {
    expect(scores).toMatchObject({ stableYears: 2, falseAlarmsPer1000Years: 500 });
  });

  it('measures lead, errors and horizon', () => {
    expect(scores).toMatchObject({ crossings: 1, flaggedBefore: 1, flagged90DaysAhead: 1 });
    expect(scores.medianAbsoluteError).toEqual([20, 80, 30]);
    expect(scores.prognosticHorizon).toBe(300);
    // Half way from day 200 to 500 is day 350; the visit of day 300 errs by 80 with 200 days left.
    expect(scores.alphaLambda).toBe(0);
  });

  it('has no figure where there is nothing to score', () => {
    const none = scoreForecasts([]);
    expect(none.coverage80).toBeNull();
    expect(none.falseAlarmsPer1000Years).toBeNull();
    expect(none.medianAbsoluteError).toEqual([null, null, null]);
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
