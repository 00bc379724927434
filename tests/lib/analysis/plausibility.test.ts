import { describe, expect, it } from 'vitest';
import {
  checkPlausibility,
  type DraftReading,
  type PlausibilityContext,
} from '@/lib/analysis/plausibility';
import { type PressureUnit, toKilometres, toKilopascals } from '@/lib/measure';

const context: PlausibilityContext = { elevation: 0, expectedIdleSle: null, lastOdometer: null };
const draft = (
  keyedIn: PressureUnit,
  idle: number,
  lowest: number | null = null,
): DraftReading => ({
  readOn: 20_000,
  idle: toKilopascals(idle, keyedIn),
  raised: null,
  lowest: lowest === null ? null : toKilopascals(lowest, keyedIn),
  recovery: 8,
  holdLoss: null,
  holdTime: null,
  barometer: null,
  odometer: null,
  keyedIn,
});
const check = (reading: DraftReading, known: Partial<PlausibilityContext> = {}) =>
  checkPlausibility(reading, { ...context, ...known });
const asked = (reading: DraftReading, known: Partial<PlausibilityContext> = {}) =>
  check(reading, known).questions.map(({ id }) => id);

describe('what is refused', () => {
  it('offers the unit of measure that makes an impossible figure likely', () => {
    const [problem] = check(draft('psi', 25.5)).problems;
    expect(problem).toMatchObject({ field: 'idle', value: '25.5 psi' });
    expect(problem?.mend).toContain('inHg');
    expect(check(draft('inHg', 85)).problems[0]?.mend).toContain('kPa');
  });

  // 31.0 inHg is 104.98 kPa, more than the 101.325 kPa of the standard atmosphere at sea level.
  it('refuses 31.0 inHg at sea level, and 25 inHg at 5,000 ft where ambient is 24.9', () => {
    expect(check(draft('inHg', 31)).problems[0]?.mend).toContain('Read the gauge again');
    expect(check(draft('inHg', 25), { elevation: 1524 }).problems).toHaveLength(1);
    expect(check(draft('inHg', 25)).problems).toEqual([]);
  });

  it.each<[string, Partial<DraftReading>]>([
    ['idle', { idle: -1 }],
    ['idle', { idle: Number.NaN }],
    ['lowest', { lowest: 89.9 }],
    ['holdLoss', { holdLoss: 91, holdTime: 60 }],
    ['recovery', { recovery: 601 }],
    ['holdTime', { holdTime: 0 }],
    ['barometer', { barometer: 30 }],
    ['odometer', { odometer: Number.POSITIVE_INFINITY }],
  ])('%s of %o', (field, change) => {
    const { problems, questions } = check({ ...draft('kPa', 88), ...change });
    expect(problems.map((problem) => problem.field)).toEqual([field]);
    expect(questions).toEqual([]);
  });
});

describe('what is asked before recording', () => {
  it('asks for the unit where the figure is likely in another and not in this one', () => {
    const [question] = check(draft('inHg', 13, 9.6)).questions;
    expect(question).toMatchObject({ id: 'unit of measure', choices: ['inHg', 'psi'] });
    expect(asked(draft('psi', 13, 9.6))).toEqual([]);
    expect(asked(draft('inHg', 26, 19))).toEqual([]);
  });

  it('asks nothing of a unit known to be that weak', () => {
    expect(asked(draft('inHg', 13), { expectedIdleSle: toKilopascals(6.6, 'psi') })).toEqual([]);
  });

  it('asks about a barometer that may be corrected to sea level', () => {
    const reading = { ...draft('psi', 10.4), barometer: 101.3 };
    expect(asked(reading, { elevation: 1600 })).toEqual(['barometer']);
    expect(asked({ ...draft('psi', 13), barometer: 101.3 })).toEqual([]);
  });

  it('asks about long recovery and short holds', () => {
    expect(asked({ ...draft('psi', 13), recovery: 90 })).toEqual(['recovery']);
    expect(asked({ ...draft('psi', 13), holdLoss: 0, holdTime: 15 })).toEqual(['hold time']);
    expect(asked({ ...draft('psi', 13), holdLoss: 0, holdTime: null })).toEqual(['hold time']);
  });

  it('asks about an odometer that went back or ran too far', () => {
    const lastOdometer = { on: 19_990, odometer: 160_000 };
    const at = (odometer: number) =>
      check({ ...draft('psi', 13), odometer }, { lastOdometer }).questions;
    expect(at(161_000)).toEqual([]);
    // Ten days of exactly 400 miles a day may be; 100,000 miles further is no rollover of 400,000 km.
    expect(at(160_000 + 10 * toKilometres(400, 'mi'))).toEqual([]);
    expect(at(10_000)[0]?.choices).toEqual(['new cluster', 'last one was wrong', 'key it again']);
    const far = { lastOdometer: { on: 19_990, odometer: 400_000 } };
    const [fallen] = check({ ...draft('psi', 13), odometer: 1000 }, far).questions;
    expect(fallen?.choices).not.toContain('it rolled over');
    expect(at(159_000)[0]?.choices).toEqual(['new cluster', 'last one was wrong', 'key it again']);
    expect(at(200)[0]?.choices[0]).toBe('it rolled over');
    expect(at(167_000)[0]?.choices).toEqual(['last one was wrong', 'key it again']);
  });
});

describe('each refusal names the figure and the mend', () => {
  const refused = (change: Partial<DraftReading>) =>
    check({ ...draft('kPa', 88), ...change }).problems;

  it.each<[Partial<DraftReading>, string, string, string]>([
    [
      { idle: 100 },
      '100.0 kPa',
      'The air there can give no more than 101.3 kPa.',
      'Read the gauge again, and check the unit on its face.',
    ],
    [
      { lowest: 89 },
      '89.0 kPa',
      'Lowest lies above the idle of 88.0 kPa.',
      'Key the least value over the four presses; check idle as well.',
    ],
    [
      { holdLoss: 90, holdTime: 60 },
      '90.0 kPa',
      'More was lost than the idle of 88.0 kPa.',
      'Key how far the vacuum fell, not what was left.',
    ],
    [{ recovery: 601 }, '601', 'It is outside what can be.', 'Key seconds, 600 at most.'],
    [{ holdTime: 3601 }, '3601', 'It is outside what can be.', 'Key the time held, 1 s to 60 min.'],
    [{ holdTime: 0.5 }, '0.5', 'It is outside what can be.', 'Key the time held, 1 s to 60 min.'],
    [
      { barometer: 44.9 },
      '44.9',
      'It is outside what can be.',
      'Key station pressure, 45 to 110 kPa, or leave it empty.',
    ],
    [
      { odometer: 1e7 + 1 },
      '10000001',
      'It is outside what can be.',
      'Key what the odometer shows.',
    ],
    [
      { raised: -1 },
      '-1',
      'It is no measurement.',
      'Key vacuum and times as figures above nought, without a sign.',
    ],
    [
      { recovery: Number.POSITIVE_INFINITY },
      'Infinity',
      'It is no measurement.',
      'Key vacuum and times as figures above nought, without a sign.',
    ],
  ])('%o', (change, value, message, mend) => {
    expect(refused(change)).toEqual([{ field: Object.keys(change)[0], value, message, mend }]);
  });

  it('takes each figure at the very end of its range', () => {
    const ends = { recovery: 600, holdTime: 3600, odometer: 1e7 };
    for (const change of [
      ends,
      { recovery: 0, holdTime: 1, odometer: 0 },
      { barometer: 45 },
      { barometer: 110 },
    ])
      expect(refused(change)).toEqual([]);
    // 0.1 psi is what a gauge jitters by.
    expect(refused({ lowest: 88 + 0.68 })).toEqual([]);
    expect(refused({ lowest: 88 + 0.7 })).toHaveLength(1);
    expect(refused({ idle: null, lowest: 30, holdLoss: 40, holdTime: 60 })).toEqual([]);
  });

  it('goes by a barometer near the standard pressure, and by that where it is not', () => {
    expect(refused({ idle: 95, barometer: 96.4 })[0]?.message).toContain('96.4 kPa');
    expect(refused({ idle: 95, barometer: 96.2 })).toEqual([]);
    expect(refused({ idle: 100, barometer: 107 })[0]?.message).toContain('101.3 kPa');
  });
});

describe('each question says what is odd, and offers the ways out', () => {
  const questions = (change: Partial<DraftReading>, known: Partial<PlausibilityContext> = {}) =>
    check({ ...draft('psi', 13), ...change }, known).questions;

  it('of a unit of measure', () => {
    expect(check(draft('inHg', 13, 9.6)).questions).toEqual([
      {
        id: 'unit of measure',
        field: 'idle',
        message: 'Idle 13.0 inHg is not what this unit shows; 13.0 psi would be.',
        choices: ['inHg', 'psi'],
      },
    ]);
    // Lowest at 0.45 to 1 of idle keeps its proportion; a pump that is truly weak does not.
    for (const lowest of [5.86, 12.99, null])
      expect(asked(draft('inHg', 13, lowest))).toHaveLength(1);
    expect(asked(draft('inHg', 13, 5.84))).toEqual([]);
    expect(asked(draft('inHg', 13, 13.1))).toEqual([]);
    expect(check({ ...draft('psi', 13), idle: null }).questions).toEqual([]);
    // Likely is within 2 psi of 13, or of the unit's own level.
    expect(asked(draft('psi', 10.9))).toEqual([]);
    expect(asked(draft('inHg', 11.1))).toEqual(['unit of measure']);
    expect(asked(draft('inHg', 10.9))).toEqual([]);
  });

  it('of a barometer, a recovery and a hold', () => {
    expect(questions({ barometer: 96 })).toEqual([
      {
        id: 'barometer',
        field: 'barometer',
        message:
          'Station pressure at this elevation is near 101.3 kPa. Is 96.0 kPa corrected to sea level? It will not be used.',
        choices: ['leave it out', 'key it again'],
      },
    ]);
    expect(questions({ recovery: 61 })).toEqual([
      {
        id: 'recovery',
        field: 'recovery',
        message: 'Recovery of 61 s is long. Is it seconds?',
        choices: ['it is', 'time it again'],
      },
    ]);
    expect(questions({ recovery: 60 })).toEqual([]);
    expect(questions({ recovery: null })).toEqual([]);
    const hold = { id: 'hold time', field: 'holdTime', choices: ['hold again', 'keep it'] };
    expect(questions({ holdLoss: 1, holdTime: 44 })).toEqual([
      { ...hold, message: 'A hold of 44 s sees no leak. Hold 60 s.' },
    ]);
    expect(questions({ holdLoss: 1, holdTime: null })).toEqual([
      { ...hold, message: 'A loss without the time it took says nothing. Key the time held.' },
    ]);
    expect(questions({ holdLoss: 1, holdTime: 45 })).toEqual([]);
  });

  it('of an odometer', () => {
    const lastOdometer = { on: 19_990, odometer: 160_000 };
    const at = (
      odometer: number | null,
      readOn = 20_000,
      last: typeof lastOdometer | null = lastOdometer,
    ) => questions({ odometer, readOn }, { lastOdometer: last });
    expect(at(159_999)).toEqual([
      {
        id: 'odometer',
        field: 'odometer',
        message: 'The odometer is lower than last time.',
        choices: ['new cluster', 'last one was wrong', 'key it again'],
      },
    ]);
    // 400 miles a day over ten days are 6,437 km; the day itself counts as one.
    expect(at(166_438)[0]?.message).toBe('That is more than 400 miles a day since last time.');
    for (const odometer of [160_000, 166_437, null]) expect(at(odometer)).toEqual([]);
    expect(at(160_640, 19_990)).toEqual([]);
    expect(at(160_650, 19_990)).toHaveLength(1);
    expect(at(100, 19_989)).toEqual([]);
    expect(at(100, 20_000, null)).toEqual([]);
    expect(at(300)[0]?.choices).toContain('it rolled over');
    expect(at(5500)[0]?.choices).toContain('it rolled over');
    expect(at(5510)[0]?.choices).not.toContain('it rolled over');
    expect(at(6000)[0]?.choices).toContain('new cluster');
    expect(at(80_000)[0]?.choices).not.toContain('it rolled over');
  });
});
