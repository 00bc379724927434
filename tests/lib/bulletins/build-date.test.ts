import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  buildDateFromParts,
  formatBuildDate,
  monthsBefore,
  parseBuildDate,
} from '@/lib/bulletins/build-date';
import { dayFromIso, isoFromDay } from '@/lib/calendar';

const day = (iso: string) => dayFromIso(iso) ?? Number.NaN;
const asOf = day('2025-11-25');
const parsed = (text: string) => {
  const built = parseBuildDate(text, asOf);
  return built.ok
    ? `${isoFromDay(built.value.from)} ${isoFromDay(built.value.to)} ${built.value.precision}`
    : built.error[0]?.message;
};

describe('build date', () => {
  // 49 CFR 567.5 and two agency letters: "June 1970" or "6/70", day optional.
  it.each(['6/70', '06/70', 'June 1970', '6/1970', '1970-06'])('reads the label %s', (label) => {
    expect(parsed(label)).toBe('1970-06-01 1970-06-30 month');
  });

  it.each([
    ['2019-03', '2019-03-01 2019-03-31 month'],
    ['2019-03-14', '2019-03-14 2019-03-14 day'],
    ['3/19', '2019-03-01 2019-03-31 month'],
    ['2/24', '2024-02-01 2024-02-29 month'],
    ['11/25', '2025-11-01 2025-11-30 month'],
    ['2019', '2019-01-01 2019-12-31 year'],
    ['2026-12', 'built in the future'],
    ['12/26', 'built before 1960'],
    ['3/1955', 'built before 1960'],
    ['13/19', 'not a build date'],
    ['2019-02-30', 'not a build date'],
    ['3/14/19', 'not a build date'],
    ['spring 2019', 'not a build date'],
    ['', 'not a build date'],
  ])('reads %j as %s', (text, expected) => {
    expect(parsed(text)).toBe(expected);
  });

  it('says no more than is known, and reads back what it says', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1960, max: 2024 }),
        fc.option(fc.integer({ min: 1, max: 12 })),
        fc.option(fc.integer({ min: 1, max: 31 })),
        (year, month, date) => {
          const built = buildDateFromParts(year, month, date);
          if (!built) return;
          const again = parseBuildDate(formatBuildDate(built), asOf);
          expect(again).toEqual({ ok: true, value: built });
        },
      ),
    );
  });

  it('counts months back by the calendar', () => {
    expect(isoFromDay(monthsBefore(day('2025-03-31'), 1))).toBe('2025-02-28');
    expect(isoFromDay(monthsBefore(day('2024-03-31'), 1))).toBe('2024-02-29');
    expect(isoFromDay(monthsBefore(day('2025-11-25'), 0))).toBe('2025-11-25');
    expect(isoFromDay(monthsBefore(day('2025-01-15'), 13))).toBe('2023-12-15');
  });
});
