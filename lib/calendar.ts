import { getISOWeek, getISOWeekYear } from 'date-fns';
import type { DayNumber } from '@/lib/measure';

const millisecondsPerDay = 86_400_000;

/** Day number of an ISO 8601 calendar date, or null when it is not one (`2026-02-30` is not). */
export function dayFromIso(text: string): DayNumber | null {
  const match = /^(\d{4})-(\d{2})-(\d{2})$/.exec(text);
  if (!match) return null;
  const day =
    Date.UTC(Number(match[1]), Number(match[2]) - 1, Number(match[3])) / millisecondsPerDay;
  return isoFromDay(day) === text ? day : null;
}

/** ISO 8601 calendar date of a day number. */
export const isoFromDay = (day: DayNumber): string =>
  new Date(Math.round(day) * millisecondsPerDay).toISOString().slice(0, 10);

/** `isoWeekOf(dayFromIso('2026-01-01'))` is `2026-W01`. */
export function isoWeekOf(day: DayNumber): string {
  const [year, month, date] = isoFromDay(day).split('-').map(Number) as [number, number, number];
  const local = new Date(year, month - 1, date, 12);
  return `${getISOWeekYear(local)}-W${String(getISOWeek(local)).padStart(2, '0')}`;
}

/** Monday of the ISO week that a day lies in. 1970-01-01 was a Thursday. */
export const mondayOf = (day: DayNumber): DayNumber => day - ((((day + 3) % 7) + 7) % 7);

/** Monday of an ISO week such as `2026-W05`, or null when there is no such week. */
export function mondayOfIsoWeek(week: string): DayNumber | null {
  const match = /^(\d{4})-W(\d{2})$/.exec(week);
  if (!match) return null;
  const monday =
    mondayOf(Date.UTC(Number(match[1]), 0, 4) / millisecondsPerDay) + 7 * (Number(match[2]) - 1);
  return isoWeekOf(monday) === week ? monday : null;
}

/** The calendar day of an instant in a time zone of the IANA database, e.g. `America/Denver`. */
export function localDay(instant: Date, timeZone: string): DayNumber {
  const parts = new Intl.DateTimeFormat('en-US', {
    timeZone,
    year: 'numeric',
    month: 'numeric',
    day: 'numeric',
  }).formatToParts(instant);
  const part = (type: 'year' | 'month' | 'day') =>
    Number(parts.find((one) => one.type === type)?.value);
  return Date.UTC(part('year'), part('month') - 1, part('day')) / millisecondsPerDay;
}
