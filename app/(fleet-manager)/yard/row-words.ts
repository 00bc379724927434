import { weeksAhead, whyNoDateWords } from '@/app/_ui/format';
import type { YardRow } from '@/db/reads/yard-rows';
import type { Reason } from '@/lib/analysis/assessment';
import { reasonText, type UnitsOfMeasure } from '@/lib/analysis/rules';
import { isoWeekOf } from '@/lib/calendar';

export interface EdgeWords {
  /** Weeks to the middle date, or why there are none. */
  readonly main: string;
  /** `(1–11)`: 8 in 10. */
  readonly interval: string;
  /** Said where it is not wear. */
  readonly cause: string;
}

const nothing = { main: '', interval: '', cause: '' };

/** Weeks to what the unit meets first, short enough for a column. */
export function edgeWords({ edge, asOf }: Pick<YardRow, 'edge' | 'asOf'>): EdgeWords {
  if (edge === null || asOf === null) return nothing;
  if (edge.cause === 'limit passed') return { ...nothing, main: 'limit passed' };
  const week = (day: number) => Math.max(0, weeksAhead(day, asOf));
  const { median, earliest80, latest80, whyNone } = edge;
  const cause = edge.cause === null || edge.cause === 'wear' ? '' : edge.cause;
  const latest = latest80 ?? median;
  if (latest !== null && latest < asOf) return { ...nothing, main: 'overdue', cause };
  const interval =
    earliest80 === null
      ? ''
      : latest80 === null
        ? `(${week(earliest80)} or later)`
        : `(${week(earliest80)}–${week(latest80)})`;
  if (median === null && interval === '') {
    return { ...nothing, main: whyNone === null ? '' : whyNoDateWords[whyNone] };
  }
  if (median === null) return { main: interval.replace(/[()]/g, ''), interval: '', cause };
  return { main: String(week(median)), interval, cause };
}

/** The week that the unit is placed in, or what it waits for. */
export function nextWords({ order, mark, readingDue, asOf }: YardRow): string {
  if (order?.week) return [order.week, order.shed].filter(Boolean).join(', ');
  if (order) return `Order ${order.number}, not placed`;
  if (mark === 'Book in' || mark === 'Out of service') return 'Not placed';
  if (readingDue === null) return '';
  return readingDue < (asOf ?? readingDue) ? 'Read now' : `Read by ${isoWeekOf(readingDue)}`;
}

export const whyWords = (reason: Reason | null, units: UnitsOfMeasure): string =>
  reason === null ? 'Never judged.' : reasonText(reason, units);

/** Blank where there is nothing to do. A number and its word stay on one line. */
export function bulletinWords({ bulletinsOpen, bulletinsUndecided }: YardRow): string {
  const words = [
    bulletinsOpen > 0 && `${bulletinsOpen}\u00a0open`,
    bulletinsUndecided > 0 && `${bulletinsUndecided}\u00a0undecided`,
  ];
  return words.filter(Boolean).join(', ');
}
