import { describe, expect, it } from 'vitest';
import {
  checkPlausibility,
  type DraftReading,
  type PlausibilityContext,
} from '@/lib/analysis/plausibility';
import { type PressureUnit, toKilopascals } from '@/lib/measure';

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
    expect(at(159_000)[0]?.choices).toEqual(['new cluster', 'last one was wrong', 'key it again']);
    expect(at(200)[0]?.choices[0]).toBe('it rolled over');
    expect(at(167_000)[0]?.choices).toEqual(['last one was wrong', 'key it again']);
  });
});
