import { describe, expect, it } from 'vitest';
import { dayFromIso } from '@/lib/calendar';
import { type CalendarVisit, visitsCalendar } from '@/lib/outflow/calendar';

const feed = {
  name: 'Bay plan',
  domain: 'fleet.example',
  asOf: new Date(Date.UTC(2025, 10, 25, 9, 40)),
};
const visit: CalendarVisit = {
  id: '7d1c',
  unit: '0417',
  shedName: 'River shed; bay 1, east',
  monday: dayFromIso('2025-12-08')!,
  hours: 3.4,
  tasks: [
    'Pump, kit P2',
    'Prüfung der Unterdruckleitung und des Rückschlagventils bis zum Verstärker ✓',
  ],
  version: 3,
};

/** Content lines as RFC 5545, 3.1 reads them: CRLF ends a line, CRLF and a space continue it. */
const contentLines = (text: string): string[] =>
  text
    .replaceAll('\r\n ', '')
    .split('\r\n')
    .filter((line) => line !== '');
const propertyOf = (text: string, name: string): string | undefined =>
  contentLines(text)
    .find((line) => line.startsWith(`${name}:`) || line.startsWith(`${name};`))
    ?.slice(name.length);

describe('visitsCalendar, against RFC 5545', () => {
  const text = visitsCalendar(feed, [visit]);

  it('ends every line with CRLF and folds at 75 octets (3.1)', () => {
    expect(text.endsWith('END:VCALENDAR\r\n')).toBe(true);
    expect(text.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
    for (const line of text.split('\r\n')) {
      expect(new TextEncoder().encode(line).length).toBeLessThanOrEqual(75);
    }
  });

  it('carries what a calendar and an event must have (3.6, 3.6.1)', () => {
    expect(propertyOf(text, 'VERSION')).toBe(':2.0');
    expect(propertyOf(text, 'PRODID')).toMatch(/^:-\/\//);
    expect(propertyOf(text, 'UID')).toBe(':visit-7d1c@fleet.example');
    expect(propertyOf(text, 'DTSTAMP')).toBe(':20251125T094000Z');
    expect(propertyOf(text, 'SEQUENCE')).toBe(':3');
  });

  it('lasts from Monday to Friday; the end of a whole-day event is the day after it (3.6.1)', () => {
    expect(propertyOf(text, 'DTSTART')).toBe(';VALUE=DATE:20251208');
    expect(propertyOf(text, 'DTEND')).toBe(';VALUE=DATE:20251213');
    expect(propertyOf(text, 'TRANSP')).toBe(':TRANSPARENT');
  });

  it('escapes commas, semicolons and line ends in text (3.3.11)', () => {
    expect(propertyOf(text, 'LOCATION')).toBe(String.raw`:River shed\; bay 1\, east`);
    expect(propertyOf(text, 'SUMMARY')).toContain(String.raw`:0417: Pump\, kit P2\, Prüfung`);
    expect(propertyOf(text, 'DESCRIPTION')).toContain(String.raw`2025-W50\, 3.4 bay hours\nPump`);
    const odd = visitsCalendar(feed, [{ ...visit, shedName: 'a\\b\r\nUID:forged' }]);
    expect(propertyOf(odd, 'LOCATION')).toBe(String.raw`:a\\b\nUID:forged`);
    expect(contentLines(odd).filter((line) => line.startsWith('UID'))).toHaveLength(1);
  });

  it('keeps the UID of a visit that moves', () => {
    const moved = visitsCalendar(feed, [{ ...visit, monday: visit.monday + 14, version: 4 }]);
    expect(propertyOf(moved, 'UID')).toBe(propertyOf(text, 'UID'));
    expect(propertyOf(moved, 'DTSTART')).toBe(';VALUE=DATE:20251222');
  });

  it('is a calendar without visits too', () => {
    expect(contentLines(visitsCalendar(feed, []))).toContain('END:VCALENDAR');
  });
});
