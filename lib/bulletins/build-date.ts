import { dayFromIso, isoFromDay } from '@/lib/calendar';
import type { DayNumber } from '@/lib/measure';
import { failure, type Result, success } from '@/lib/result';

/**
 * When a unit was built, as the label tells it: a range of days, both days in. A label that names
 * only the month covers the whole month; nothing narrows it silently.
 */
export interface BuildDate {
  readonly from: DayNumber;
  readonly to: DayNumber;
  readonly precision: 'year' | 'month' | 'day';
}

const earliestYear = 1960;
const monthNames = 'JAN FEB MAR APR MAY JUN JUL AUG SEP OCT NOV DEC'.split(' ');

const iso = (year: number, month: number, day: number): string =>
  `${year}-${String(month).padStart(2, '0')}-${String(day).padStart(2, '0')}`;

const lastDayOfMonth = (year: number, month: number): DayNumber | null => {
  const next = dayFromIso(month === 12 ? iso(year + 1, 1, 1) : iso(year, month + 1, 1));
  return next === null ? null : next - 1;
};

/** The range that a year, a month or a day stands for, or null when the calendar has no such day. */
export function buildDateFromParts(
  year: number,
  month: number | null,
  day: number | null,
): BuildDate | null {
  const from = dayFromIso(iso(year, month ?? 1, day ?? 1));
  const to = day === null ? lastDayOfMonth(year, month ?? 12) : from;
  if (from === null || to === null || (month === null && day !== null)) return null;
  const precision = month === null ? 'year' : day === null ? 'month' : 'day';
  return { from, to, precision };
}

/** A month or a day as a rule writes it, `2018-11` or `2018-11-03`, or null. */
export function buildDateFromIso(text: string): BuildDate | null {
  const match = /^(\d{4})-(\d{2})(?:-(\d{2}))?$/.exec(text);
  if (!match) return null;
  const [, year, month, day] = match;
  return buildDateFromParts(Number(year), Number(month), day ? Number(day) : null);
}

/** The latest year with these two digits that is not after the year given. */
const fullYear = (twoDigits: number, thisYear: number): number =>
  thisYear - ((((thisYear - twoDigits) % 100) + 100) % 100);

function partsOf(
  text: string,
  thisYear: number,
): readonly [year: number, month: number | null, day: number | null] | null {
  const isoStyle = /^(\d{4})(?:-(\d{1,2}))?(?:-(\d{1,2}))?$/.exec(text);
  if (isoStyle) {
    const [, year, month, day] = isoStyle;
    return [Number(year), month ? Number(month) : null, day ? Number(day) : null];
  }
  const named = /^([A-Z]{3})[A-Z]*\.?,? +(\d{4})$/.exec(text);
  if (named) {
    const month = monthNames.indexOf(named[1] ?? '') + 1;
    return month > 0 ? [Number(named[2]), month, null] : null;
  }
  const label = /^(\d{1,2})\/(\d{2}|\d{4})$/.exec(text);
  if (!label) return null;
  const year = Number(label[2]);
  return [label[2]?.length === 2 ? fullYear(year, thisYear) : year, Number(label[1]), null];
}

/**
 * A build date as people find it: `2019-03`, `2019-03-14`, `3/19`, `06/1970`, `June 1970`, `2019`.
 * A two-digit year is the latest one that is not after the year of `asOf`. Three numbers with
 * slashes are refused, since the order of day and month cannot be told.
 *
 * Source: 49 CFR 567.4 and 567.5: the maker's label gives month and year, the day is optional.
 * Example: `parseBuildDate('6/70', asOf)` is 1970-06-01 to 1970-06-30, precision month.
 */
export function parseBuildDate(text: string, asOf: DayNumber): Result<BuildDate> {
  const refuse = (message: string, mend: string) =>
    failure([{ field: 'built', value: text, message, mend }]);
  const parts = partsOf(text.trim().toUpperCase(), Number(isoFromDay(asOf).slice(0, 4)));
  const built = parts && buildDateFromParts(...parts);
  if (!built) {
    return refuse(
      'not a build date',
      'Write the month as on the label, 3/19, or 2019-03, or with the day 2019-03-14.',
    );
  }
  if (parts[0] < earliestYear) {
    return refuse(`built before ${earliestYear}`, 'Check the year on the label.');
  }
  if (built.from > asOf) return refuse('built in the future', 'Check the year on the label.');
  return success(built);
}

/** `2019`, `2019-03` or `2019-03-14`: no more than is known. */
export const formatBuildDate = ({ from, precision }: BuildDate): string =>
  isoFromDay(from).slice(0, precision === 'year' ? 4 : precision === 'month' ? 7 : 10);

/** The day a number of calendar months earlier; the month's last day where it is shorter. */
export function monthsBefore(day: DayNumber, months: number): DayNumber {
  const [year, month, date] = isoFromDay(day).split('-').map(Number) as [number, number, number];
  const count = year * 12 + month - 1 - months;
  const last = lastDayOfMonth(Math.floor(count / 12), (count % 12) + 1) ?? day;
  const length = Number(isoFromDay(last).slice(8));
  return last - Math.max(0, length - date);
}
