import { describe, expect, it } from 'vitest';
import { defaultFleetPrior } from '@/lib/analysis/fleet-prior';
import {
  assessWear,
  startWear,
  updateWear,
  type WearPoint,
  type WearState,
  wearOutcomeOf,
} from '@/lib/analysis/wear';
import { WearTrack } from '@/lib/analysis/wear/wear-track';
import {
  combinedVisits,
  isConfirmed,
  median,
  visitsOf,
  type WearVisit,
} from '@/lib/analysis/wear/wear-visits';
import { toKilopascals } from '@/lib/measure';

const psi = (value: number) => toKilopascals(value, 'psi');
const read = (day: number, idle: number, lowest?: number | null): WearPoint => ({
  day,
  idleSle: psi(idle),
  ...(lowest !== undefined && { lowestSle: lowest === null ? null : psi(lowest) }),
});
const visit = (day: number, idle: number, lowest: number | null, ...readings: number[]) => ({
  day,
  idle: expect.closeTo(idle, 12),
  lowest: lowest === null ? null : expect.closeTo(lowest, 12),
  readings: readings.map((value) => expect.closeTo(value, 12)),
});

describe('visitsOf', () => {
  it('takes the readings of a day together at their medians', () => {
    const points = [
      read(30, 12, 9),
      read(10, 13),
      read(20, 12.5, 8),
      read(10, 14, 7),
      read(10, 12.9, null),
      read(20, 12.7, 8.4),
    ];
    expect(visitsOf(points)).toEqual([
      visit(10, 13, 7, 13, 14, 12.9),
      visit(20, 12.6, 8.2, 12.5, 12.7),
      visit(30, 12, 9, 12),
    ]);
    expect(points[0]!.day).toBe(30);
  });

  it('leaves out what is not a finite number, and lowest alone where only it is not', () => {
    const broken = [
      { day: Number.NaN, idleSle: 80 },
      { day: 3, idleSle: Number.POSITIVE_INFINITY },
      { day: 4, idleSle: psi(13), lowestSle: Number.NaN },
      { day: 5, idleSle: psi(13), lowestSle: Number.NaN },
      { day: 5, idleSle: psi(12) },
    ];
    expect(visitsOf(broken)).toEqual([visit(4, 13, null, 13), visit(5, 12.5, null, 13, 12)]);
  });

  it('medians: the middle one, or midway between the middle two', () => {
    expect(median([4])).toBe(4);
    expect(median([9, 1])).toBe(5);
    expect(median([10, 9, 2])).toBe(9);
    expect(median([1, 100, 2, 3])).toBe(2.5);
  });
});

describe('combinedVisits', () => {
  const lowestSignal = { slope: 0.5, intercept: 2, weight: 0.25, disagreement: 2 };
  const visits = visitsOf([read(1, 13, 8), read(2, 6.4, 8.5), read(3, 9, 8.4), read(4, 12)]);

  it('takes lowest in, the last value deciding where the two disagree', () => {
    // In idle's terms lowest says 12, 13 and 12.8: a mean, then twice the nearer to the last.
    const combined = combinedVisits(visits, { startLevel: 13, lowestSignal });
    expect(combined.map(({ idle }) => idle)).toEqual(
      [12.75, 13, 12.8, 12].map((value) => expect.closeTo(value, 12)),
    );
    expect(combined.map(({ readings }) => readings)).toEqual(visits.map((one) => one.readings));
  });

  it('begins at the usual start level, and leaves all as it is where nothing was learnt', () => {
    const first = (startLevel: number) =>
      combinedVisits(visits.slice(1, 2), { startLevel, lowestSignal })[0]!.idle;
    expect(first(12)).toBeCloseTo(13, 12);
    expect(first(7)).toBeCloseTo(6.4, 12);
    expect(combinedVisits(visits, { startLevel: 13, lowestSignal: null })).toBe(visits);
  });
});

describe('isConfirmed', () => {
  const isSo = (...readings: number[]) =>
    isConfirmed({ day: 0, idle: 0, lowest: null, readings }, defaultFleetPrior);

  it('two readings within three deviations of their difference, 1.273 psi at a noise of 0.3', () => {
    expect(isSo(10, 11.27)).toBe(true);
    expect(isSo(10, 11.28)).toBe(false);
    expect(isSo(11.27, 10)).toBe(true);
    expect(isSo(13, 10, 12)).toBe(true);
    expect(isSo(14, 10, 12)).toBe(false);
    expect(isSo(10)).toBe(false);
  });
});

describe('one reading at a time', () => {
  const prior = {
    ...defaultFleetPrior,
    alarmPower: 0.9,
    lowestSignal: { slope: 0.5, intercept: 2, weight: 0.25, disagreement: 2 },
  };
  const limit = psi(11);
  const points = [
    read(100, 13, 8.4),
    read(190, 12.9, 8.5),
    read(290, 12.6),
    read(380, 8.9),
    read(500, 12.2, 8),
    read(590, 11.8, 4),
    read(2200, 11, 7.6),
    read(2300, 10.6),
    read(2400, 7.5),
  ];
  const question = { asOf: 2500, nextReadingOn: 2600, horizonDays: 91 };
  const answers = (outcome: ReturnType<typeof assessWear>) => ({
    ...outcome,
    hindsight: outcome.hindsight(),
    passages: outcome.passages([limit, psi(9)], question),
    passage: outcome.passage(psi(9), question),
    forecast: outcome.forecast([2500, 2900]),
  });

  it('says all that the whole history says, and keeps what it was given', () => {
    let state: WearState = startWear(prior, limit);
    expect(answers(wearOutcomeOf(state))).toEqual(answers(assessWear([], prior, limit)));
    points.forEach((point, k) => {
      state = updateWear(state, point)!;
      const whole = assessWear(points.slice(0, k + 1), prior, limit);
      expect(answers(wearOutcomeOf(state))).toEqual(answers(whole));
    });
    expect(state.limitSle).toBe(limit);
    expect(state.visits).toHaveLength(points.length);
  });

  it('scores each visit by its own chance and the one before', () => {
    const chances = points.map(
      (_, k) => assessWear(points.slice(0, k + 1), prior, limit).probabilityWithin1Year!,
    );
    points.forEach((_, k) => {
      const { score, scoreBefore } = assessWear(points.slice(0, k + 1), prior, limit);
      const scoreAt = (n: number) =>
        n < 0
          ? null
          : expect.closeTo(
              (chances[n]! ** 0.7 * (chances[n - 1] ?? chances[n]!) ** 0.3) ** 0.9,
              12,
            );
      expect(score).toEqual(scoreAt(k));
      expect(scoreBefore).toEqual(scoreAt(k - 1));
    });
  });

  it('asks for a re-read of what lies three deviations off, no other', () => {
    const { steps } = assessWear(points, prior, limit);
    expect(steps.map(({ day }) => day)).toEqual(points.map(({ day }) => day));
    expect(steps.map(({ asksReread }) => asksReread)).toEqual(
      steps.map(({ z }) => z > 3 || z < -3),
    );
    expect(steps.filter(({ asksReread }) => asksReread).map(({ day }) => day)).toContain(380);
    expect(steps.some(({ asksReread }) => !asksReread)).toBe(true);
  });
});

describe('an unconfirmed low reading', () => {
  const sound = [13, 13.1, 12.9, 13].map((idle, k) => read(91 * k, idle));
  const outcome = (idle: number) => assessWear([...sound, read(400, idle)], defaultFleetPrior);

  it('a worse one never counts for less, and is heard though left out', () => {
    const scores = [11, 10, 9, 8, 6, 3].map((idle) => outcome(idle).scoreIfTrue);
    expect(scores).toEqual(scores.toSorted((a, b) => a - b));
    for (const idle of [11, 8]) {
      const { score, scoreIfTrue, levelNow } = outcome(idle);
      expect(scoreIfTrue).toBeGreaterThan(score!);
      expect(Math.abs(levelNow! / psi(1) - 13)).toBeLessThan(0.1);
    }
    expect(outcome(12.9).scoreIfTrue).toBe(0);
  });

  it('counts as the worst of all readings down to it would if a second one agreed', () => {
    for (const idle of [11.4, 10, 7]) {
      const { levelNow, levelDeviation, scoreIfTrue, unconfirmed } = outcome(idle);
      expect(unconfirmed).toBe(true);
      const spread = Math.hypot(levelDeviation! / psi(1), defaultFleetPrior.noise);
      const agreed = [2.8, 2.9, 3, 3.2, 3.5, 4, 5, 6, 8].map((deviations) => {
        const tried = Math.max(idle, levelNow! / psi(1) - deviations * spread);
        const twice = [...sound, read(400, tried), read(400, tried)];
        return assessWear(twice, defaultFleetPrior).score!;
      });
      expect(scoreIfTrue).toBeCloseTo(Math.max(...agreed), 9);
    }
  });

  it('is judged without moving what is believed', () => {
    const track = new WearTrack();
    track.start(defaultFleetPrior);
    const visits = visitsOf([...sound, read(400, 9)]);
    for (const { day, idle } of visits) track.take(day, idle);
    const believed = track.after.snapshot();
    track.judge(visits.at(-1) as WearVisit, defaultFleetPrior, 10);
    expect(track.after.snapshot()).toEqual(believed);
  });
});
