import type { FirstPassage, WhyNoDate } from '@/lib/analysis/assessment';
import { isoFromDay, isoWeekOf, mondayOf } from '@/lib/calendar';
import {
  type DayNumber,
  type DistanceUnit,
  formatDistance,
  formatPressure,
  fromKilopascals,
  type Kilometres,
  type Kilopascals,
  type PressureUnit,
  pressureDecimals,
  type Seconds,
} from '@/lib/measure';

/** Stands where a measurement could not be made. */
export const noValue = '–';

export const pressure = (value: Kilopascals | null, unit: PressureUnit): string =>
  value === null ? noValue : formatPressure(value, unit);

/** Without its unit, for a column whose head names it. */
export const pressureFigure = (value: Kilopascals | null, unit: PressureUnit): string =>
  value === null ? noValue : fromKilopascals(value, unit).toFixed(pressureDecimals[unit]);

/** Signed, to two decimals: slopes and offsets are finer than what a gauge face shows. */
export function pressureDifference(value: Kilopascals, unit: PressureUnit): string {
  const shown = fromKilopascals(value, unit);
  return `${shown < 0 ? '−' : '+'}${Math.abs(shown).toFixed(2)} ${unit}`;
}

export const seconds = (value: Seconds | null): string =>
  value === null ? noValue : `${value.toFixed(1)} s`;

export const distance = (value: Kilometres | null, unit: DistanceUnit): string =>
  value === null ? noValue : formatDistance(value, unit);

export const isoDate = (day: DayNumber | null): string =>
  day === null ? noValue : isoFromDay(day);

/** Date and minute on a shed's own clock, `2025-11-25 09:40 UTC`. */
export function moment(instant: Date, timeZone: string): string {
  const parts = new Intl.DateTimeFormat('en-US', {
    timeZone,
    hourCycle: 'h23',
    year: 'numeric',
    month: '2-digit',
    day: '2-digit',
    hour: '2-digit',
    minute: '2-digit',
    timeZoneName: 'short',
  }).formatToParts(instant);
  const part = (type: Intl.DateTimeFormatPartTypes) =>
    parts.find((each) => each.type === type)?.value ?? '';
  return `${part('year')}-${part('month')}-${part('day')} ${part('hour')}:${part('minute')} ${part('timeZoneName')}`;
}

/** Whole ISO weeks from the week of `asOf`; negative when gone by. */
export const weeksAhead = (day: DayNumber, asOf: DayNumber): number =>
  (mondayOf(day) - mondayOf(asOf)) / 7;

/** `in 9 weeks (2026-W05)`. */
export function inWeeks(day: DayNumber, asOf: DayNumber): string {
  const weeks = weeksAhead(day, asOf);
  const count = Math.abs(weeks) === 1 ? '1 week' : `${Math.abs(weeks)} weeks`;
  if (weeks === 0) return `this week (${isoWeekOf(day)})`;
  return `${weeks > 0 ? `in ${count}` : `${count} ago`} (${isoWeekOf(day)})`;
}

export const whyNoDateWords: Record<WhyNoDate, string> = {
  'too few': 'too few to forecast',
  'beyond 10 years': 'no limit met within 10 years',
  'no reading since the repair': 'no reading since the repair',
  'no reading': 'never read',
  'no limit': 'no limit set',
};

/** The dates of any forecast: of a limit, a belt, a bulletin. */
export type ForecastDates = Pick<FirstPassage, 'median' | 'earliest80' | 'latest80' | 'whyNone'>;

/** `8 in 10: week 5 to 16`, counted from the week of `asOf`. */
export function interval(passage: ForecastDates, asOf: DayNumber): string {
  const { earliest80, latest80, whyNone } = passage;
  if (earliest80 === null) return whyNoDateWords[whyNone ?? 'beyond 10 years'];
  const early = Math.max(0, weeksAhead(earliest80, asOf));
  if (latest80 === null) return `8 in 10: week ${early} or later`;
  return `8 in 10: week ${early} to ${Math.max(early, weeksAhead(latest80, asOf))}`;
}

/** `in 9 weeks (2026-W05), 8 in 10: week 5 to 16`, or why there is no such date. */
export function forecast(passage: ForecastDates, asOf: DayNumber): string {
  if (passage.median === null) return interval(passage, asOf);
  return `${inWeeks(passage.median, asOf)}, ${interval(passage, asOf)}`;
}

/** `1 unit`, `2 units`. */
export const counted = (count: number, one: string, many: string): string =>
  `${count} ${count === 1 ? one : many}`;
