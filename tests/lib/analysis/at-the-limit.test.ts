import { describe, expect, it } from 'vitest';
import { type AssessUnitInput, assessUnit } from '@/lib/analysis/assess-unit';
import { defaultLimits as limits } from '@/lib/analysis/limits';
import { ambientOf, barometerTolerance, normalise } from '@/lib/analysis/normalise';
import { askAboutBarometer } from '@/lib/analysis/plausibility-questions';
import type { Reading } from '@/lib/analysis/reading';
import { bulletinFindings } from '@/lib/analysis/standing-findings';
import { isIdleLikely } from '@/lib/analysis/suspected-unit';
import { seaLevelPressure } from '@/lib/atmosphere';
import { aUnit, psi, quarterly, readingOn } from '../../support/a-unit';

const asOf = 20_000;
const rulesOf = (change: Partial<Reading>, input: Partial<AssessUnitInput> = {}): string[] =>
  assessUnit(
    aUnit({
      readings: [...quarterly(asOf - 100, [13, 13, 13]), readingOn(asOf - 5, change)],
      ...input,
    }),
  ).reasons.map(({ rule }) => rule);
const aHairOver = 1 + 1e-9;

// A limit is crossed strictly and on the unrounded value (docs/method.md, Limits). At sea level the
// equivalent of a reading is the reading.
describe('what just meets a limit is not past it', () => {
  it.each<[string, (at: number) => Partial<Reading>, number, boolean]>([
    ['idle below caution', (idle) => ({ idle, lowest: psi(8.5) }), limits.idleCautionSle, true],
    ['idle below stop', (idle) => ({ idle, lowest: psi(5) }), limits.idleStopAsRead, true],
    ['lowest below caution', (lowest) => ({ lowest }), limits.lowestCautionSle, true],
    ['lowest below stop', (lowest) => ({ lowest }), limits.lowestStopAsRead, true],
    ['recovery over caution', (recovery) => ({ recovery }), limits.recoveryCaution, false],
    ['recovery over stop', (recovery) => ({ recovery }), limits.recoveryStop, false],
    // 8 s is this unit's own start.
    [
      'recovery over baseline',
      (recovery) => ({ recovery }),
      8 * limits.recoveryCautionTimesBaseline,
      false,
    ],
    ['hold loss over caution', (holdLoss) => ({ holdLoss }), limits.hold60Caution, false],
    ['hold loss over stop', (holdLoss) => ({ holdLoss }), limits.hold60Stop, false],
    [
      'hold loss over caution',
      (holdLoss) => ({ holdLoss, holdTime: 300 }),
      limits.hold300Caution,
      false,
    ],
    // A blind hold counts only where it lost too much all the same.
    [
      'hold loss over caution',
      (holdLoss) => ({ holdLoss, holdTime: 30 }),
      limits.hold60Caution,
      false,
    ],
  ])('%s', (rule, reading, limit, isLowerLimit) => {
    expect(rulesOf(reading(limit))).not.toContain(rule);
    expect(rulesOf(reading(isLowerLimit ? limit / aHairOver : limit * aHairOver))).toContain(rule);
  });

  it('two visits below the own start', () => {
    const readings = (drop: number) =>
      [psi(13), psi(13), psi(13), psi(13) - drop, psi(13) - drop].map((idle, k) =>
        readingOn(asOf - 5 - 91 * (4 - k), { idle }),
      );
    const drop = limits.belowBaselineSle;
    expect(rulesOf({}, { readings: readings(drop - 1e-9) })).not.toContain('two below baseline');
    expect(rulesOf({}, { readings: readings(drop + 1e-9) })).toContain('two below baseline');
  });

  it('the last day of the horizon belongs to it', () => {
    const due = { bulletinId: 'B', number: 'B', dueOn: 91, isDoNotDrive: false };
    expect(bulletinFindings([due], 91)).toHaveLength(1);
    expect(bulletinFindings([due], 90)).toHaveLength(0);
  });
});

describe('what is just believable is believed', () => {
  const standard = seaLevelPressure;

  it('a barometer 5 kPa from the standard pressure, on either side', () => {
    for (const sign of [-1, 1]) {
      const inside = standard + sign * barometerTolerance;
      // Exact, so that the edge itself is tried.
      expect(Math.abs(inside - standard)).toBe(barometerTolerance);
      expect(ambientOf(inside, 0)).toBe(inside);
      expect(askAboutBarometer({ barometer: inside }, standard)).toEqual([]);
      const outside = standard + sign * (barometerTolerance + 0.01);
      expect(ambientOf(outside, 0)).toBe(standard);
      expect(askAboutBarometer({ barometer: outside }, standard)).toHaveLength(1);
    }
    expect(ambientOf(null, 0)).toBe(standard);
    expect(ambientOf(Number.NaN, 0)).toBe(standard);
  });

  it('an idle 2 psi from the level expected', () => {
    expect(isIdleLikely(80 + psi(2), standard, 80)).toBe(true);
    expect(isIdleLikely(80 + psi(2) * aHairOver, standard, 80)).toBe(false);
  });

  it('vacuum of 0.985 of the air there', () => {
    const reading = (idle: number) => normalise(readingOn(1, { idle, barometer: null }), 0);
    expect(reading(0.985 * standard).isSound).toBe(true);
    expect(reading(0.985 * standard * aHairOver).isSound).toBe(false);
  });
});
