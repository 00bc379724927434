import { getISOWeek, getISOWeekYear } from 'date-fns';
import type { DayNumber } from '@/lib/measure';

const millisecondsPerDay = 86_400_000;

const isoDate = /^\d{4}-\d{2}-\d{2}$/;

/** Day number of an ISO 8601 calendar date, or null when it is not one (`2026-02-30` is not). */
export function dayFromIso(text: string): DayNumber | null {
  if (!isoDate.test(text)) return null;
  const year = Number(text.slice(0, 4));
  const month = Number(text.slice(5, 7));
  const date = Number(text.slice(8));
  const time = Date.UTC(year, month - 1, date);
  const read = new Date(time);
  const isReal =
    read.getUTCFullYear() === year &&
    read.getUTCMonth() === month - 1 &&
    read.getUTCDate() === date;
  return isReal ? time / millisecondsPerDay : null;
}

const two = (figure: number) => (figure < 10 ? `0${figure}` : `${figure}`);

/** ISO 8601 calendar date of a day number. */
export function isoFromDay(day: DayNumber): string {
  const date = new Date(Math.round(day) * millisecondsPerDay);
  const year = date.getUTCFullYear();
  if (!(year >= 1000 && year <= 9999)) return date.toISOString().slice(0, 10);
  return `${year}-${two(date.getUTCMonth() + 1)}-${two(date.getUTCDate())}`;
}

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

const clocks = new Map<string, Intl.DateTimeFormat>();

/** What a clock in the zone shows at an instant, as if it were UTC. */
function clockAt(instant: number, timeZone: string): number {
  let clock = clocks.get(timeZone);
  if (!clock) {
    clock = new Intl.DateTimeFormat('en-US', {
      timeZone,
      hourCycle: 'h23',
      year: 'numeric',
      month: 'numeric',
      day: 'numeric',
      hour: 'numeric',
      minute: 'numeric',
      second: 'numeric',
    });
    clocks.set(timeZone, clock);
  }
  const parts = clock.formatToParts(instant);
  const part = (type: Intl.DateTimeFormatPartTypes) =>
    Number(parts.find((one) => one.type === type)?.value);
  return Date.UTC(
    part('year'),
    part('month') - 1,
    part('day'),
    part('hour'),
    part('minute'),
    part('second'),
  );
}

/** The calendar day of an instant in a time zone of the IANA database, e.g. `America/Denver`. */
export const localDay = (instant: Date, timeZone: string): DayNumber =>
  Math.floor(clockAt(instant.getTime(), timeZone) / millisecondsPerDay);

/**
 * The instant at which a clock in the zone showed a time, given as if it were UTC. `skipped` where
 * the clocks went forward over it, `twice` where they went back and it came again.
 *
 * @example instantOfLocalTime(Date.UTC(2026, 2, 8, 2, 30), 'America/Denver') is 'skipped'
 */
export function instantOfLocalTime(local: number, timeZone: string): Date | 'skipped' | 'twice' {
  const offsetNear = (instant: number) =>
    clockAt(instant, timeZone) - Math.floor(instant / 1000) * 1000;
  const offsets = [local - millisecondsPerDay, local + millisecondsPerDay].map(offsetNear);
  const found = [...new Set(offsets)]
    .map((offset) => local - offset)
    .filter((instant) => instant + offsetNear(instant) === local);
  if (found.length === 0) return 'skipped';
  return found.length > 1 ? 'twice' : new Date(found[0] ?? local);
}
