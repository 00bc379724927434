import { describe, expect, it } from 'vitest';
import { forecast, interval, inWeeks, moment, noValue, pressure } from '@/app/_ui/format';
import type { FirstPassage } from '@/lib/analysis/assessment';
import { dayFromIso } from '@/lib/calendar';

const day = (iso: string): number => dayFromIso(iso) ?? Number.NaN;
const asOf = day('2025-11-25');

const passage: FirstPassage = {
  probabilityWithin1Year: 0.9,
  probabilityBeforeNextReading: 0.5,
  probabilityWithinHorizon: 0.5,
  earliest95: null,
  earliest90: null,
  earliest80: day('2025-12-30'),
  median: day('2026-01-29'),
  latest80: day('2026-03-18'),
  latest90: null,
  latest95: null,
  whyNone: null,
};

describe('words for weeks, counted by ISO 8601 weeks', () => {
  it.each([
    ['2026-01-29', 'in 9 weeks (2026-W05)'],
    ['2025-12-01', 'in 1 week (2025-W49)'],
    ['2025-11-30', 'this week (2025-W48)'],
    ['2025-11-10', '2 weeks ago (2025-W46)'],
    // ISO 8601: 2026 has 53 weeks, so 2027-01-03 still lies in the last.
    ['2027-01-03', 'in 57 weeks (2026-W53)'],
  ])('%s is %s', (iso, words) => {
    expect(inWeeks(day(iso), asOf)).toBe(words);
  });
});

describe('a forecast is always an interval', () => {
  it('names the week and 8 in 10', () => {
    expect(forecast(passage, asOf)).toBe('in 9 weeks (2026-W05), 8 in 10: week 5 to 16');
  });

  it('leaves the late edge open when it has none', () => {
    expect(interval({ ...passage, latest80: null }, asOf)).toBe('8 in 10: week 5 or later');
  });

  it('starts no earlier than this week', () => {
    expect(interval({ ...passage, earliest80: asOf - 30 }, asOf)).toBe('8 in 10: week 0 to 16');
  });

  it.each([
    ['too few', 'too few to forecast'],
    ['no reading', 'never read'],
    ['beyond 10 years', 'no limit met within 10 years'],
  ] as const)('without a date: %s', (whyNone, words) => {
    const none = { ...passage, earliest80: null, median: null, latest80: null, whyNone };
    expect(forecast(none, asOf)).toBe(words);
  });
});

describe('measures and moments', () => {
  it("shows a pressure in the viewer's unit, and a dash for what could not be read", () => {
    expect(pressure(82.737, 'psi')).toBe('12.0 psi');
    expect(pressure(82.737, 'inHg')).toBe('24.4 inHg');
    expect(pressure(null, 'kPa')).toBe(noValue);
  });

  it("gives a moment on the shed's own clock", () => {
    const instant = new Date('2025-11-25T09:40:00Z');
    expect(moment(instant, 'UTC')).toBe('2025-11-25 09:40 UTC');
    // Mountain Standard Time is UTC-7 (IANA America/Denver, winter).
    expect(moment(instant, 'America/Denver')).toBe('2025-11-25 02:40 MST');
  });
});
