import ical, { ICalEventTransparency } from 'ical-generator';
import { isoWeekOf } from '@/lib/calendar';
import type { DayNumber } from '@/lib/measure';

export interface CalendarVisit {
  /** Names the visit for good, whatever week it moves to: a work order's id, for example. */
  readonly id: string;
  readonly unit: string;
  readonly shedName: string;
  /** Monday of the week in which it is placed. */
  readonly monday: DayNumber;
  readonly hours: number;
  /** What is done, one line each. */
  readonly tasks: readonly string[];
  /** Rises with every change, so that a calendar takes the newer one. */
  readonly version: number;
}

export interface CalendarFeed {
  readonly name: string;
  /** Who issues the ids, e.g. `fleet.example`; the same for ever. */
  readonly domain: string;
  readonly asOf: Date;
}

const dateOf = (day: DayNumber): Date => new Date(day * 86_400_000);

/**
 * Placed visits as an iCalendar feed (RFC 5545), one event a visit over the working days of its week.
 * A visit keeps its UID when it moves, so importing the feed again updates what is there. Whole-day
 * events have no time zone: Monday is Monday in every shed. No visits give an empty calendar.
 */
export function visitsCalendar(feed: CalendarFeed, visits: readonly CalendarVisit[]): string {
  const calendar = ical({
    name: feed.name,
    prodId: { company: 'Idlemark', product: 'Bay plan', language: 'EN' },
  });
  for (const visit of visits) {
    calendar.createEvent({
      id: `visit-${visit.id}@${feed.domain}`,
      stamp: feed.asOf,
      sequence: visit.version,
      start: dateOf(visit.monday),
      // The end of a whole-day event is the first day after it.
      end: dateOf(visit.monday + 5),
      allDay: true,
      transparency: ICalEventTransparency.TRANSPARENT,
      summary: `${visit.unit}: ${visit.tasks.join(', ')}`,
      location: visit.shedName,
      description: [
        `${isoWeekOf(visit.monday)}, ${visit.hours.toFixed(1)} bay hours`,
        ...visit.tasks,
        'Service information in force, local law and a licensed technician prevail.',
      ].join('\n'),
    });
  }
  // Every line ends with CRLF, the last one too (RFC 5545, 3.1).
  return `${calendar.toString()}\r\n`;
}
