import { describe, expect, it } from 'vitest';
import {
  dayFromIso,
  isoFromDay,
  isoWeekOf,
  localDay,
  mondayOf,
  mondayOfIsoWeek,
} from '@/lib/calendar';

const day = (iso: string) => dayFromIso(iso) ?? Number.NaN;

describe('calendar', () => {
  it('refuses days that no calendar has', () => {
    expect(dayFromIso('2026-02-29')).toBeNull();
    expect(dayFromIso('2028-02-29')).not.toBeNull();
    expect(dayFromIso('2026-1-5')).toBeNull();
    expect(dayFromIso('2026-13-01')).toBeNull();
  });

  it('counts days from 1970-01-01 and back', () => {
    expect(dayFromIso('1970-01-01')).toBe(0);
    expect(isoFromDay(day('2026-11-25'))).toBe('2026-11-25');
  });

  // ISO 8601: week 1 has the year's first Thursday. 2020 and 2026 have 53 weeks (common calendar, no source needed).
  it.each([
    ['2020-12-31', '2020-W53'],
    ['2021-01-03', '2020-W53'],
    ['2021-01-04', '2021-W01'],
    ['2026-01-01', '2026-W01'],
    ['2026-12-31', '2026-W53'],
    ['2024-12-30', '2025-W01'],
  ])('%s lies in %s', (iso, week) => {
    expect(isoWeekOf(day(iso))).toBe(week);
  });

  it('finds the Monday of a week, and no week that the year has not', () => {
    expect(isoFromDay(mondayOf(day('2026-11-25')))).toBe('2026-11-23');
    expect(isoFromDay(mondayOfIsoWeek('2026-W53') ?? Number.NaN)).toBe('2026-12-28');
    expect(mondayOfIsoWeek('2025-W53')).toBeNull();
    expect(mondayOfIsoWeek('2025-W00')).toBeNull();
  });

  it('takes the day of the shed, not of the server', () => {
    const instant = new Date('2026-03-01T05:30:00Z');
    expect(isoFromDay(localDay(instant, 'America/Denver'))).toBe('2026-02-28');
    expect(isoFromDay(localDay(instant, 'UTC'))).toBe('2026-03-01');
  });

  it('keeps the day through both changes of the clock', () => {
    // United States, 2026: forward on March 8, back on November 1 (Energy Policy Act of 2005).
    for (const [instant, iso] of [
      ['2026-03-08T07:30:00Z', '2026-03-08'],
      ['2026-03-09T05:30:00Z', '2026-03-08'],
      ['2026-11-01T06:30:00Z', '2026-11-01'],
      ['2026-11-02T06:30:00Z', '2026-11-01'],
    ] as const) {
      expect(isoFromDay(localDay(new Date(instant), 'America/Denver'))).toBe(iso);
    }
  });
});
