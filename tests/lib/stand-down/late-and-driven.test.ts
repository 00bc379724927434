import { describe, expect, it } from 'vitest';
import { toKilometres } from '@/lib/measure';
import { drivenWhileOut } from '@/lib/stand-down/driven-while-out';
import { placeLateReading } from '@/lib/stand-down/place-late-reading';

const day = (number: number) => new Date(Date.UTC(2026, 0, number));
const ended = (spellId: string, from: number) => ({
  spellId,
  openedAt: day(from),
  repairedAt: day(from + 2),
  releasedAt: day(from + 3),
});

describe('a late reading past a stop', () => {
  it('read before the repair was finished, joins the ended spell', () => {
    expect(placeLateReading(day(3), [ended('a', 2)])).toEqual({ joins: 'a' });
    expect(placeLateReading(day(1), [ended('a', 2)])).toEqual({ joins: 'a' });
  });

  it('read after the repair, opens a spell', () => {
    expect(placeLateReading(day(4), [ended('a', 2)])).toBe('opens a spell');
    expect(placeLateReading(day(9), [ended('a', 2)])).toBe('opens a spell');
  });

  it('joins the newest ended spell, since its repair came after the reading', () => {
    expect(placeLateReading(day(3), [ended('b', 10), ended('a', 2)])).toEqual({ joins: 'b' });
  });

  it('with no ended spell, opens one', () => {
    expect(placeLateReading(day(3), [])).toBe('opens a spell');
  });
});

describe('driven while out of service', () => {
  it('allows one road test of 5 miles', () => {
    expect(drivenWhileOut(0, toKilometres(5, 'mi'))).toBeNull();
    expect(drivenWhileOut(1_000, 1_010)).toBe(10);
  });

  it('allows 5 miles for each road test that was logged', () => {
    expect(drivenWhileOut(1_000, 1_010, 1)).toBe(10);
    expect(drivenWhileOut(1_000, 1_010, 2)).toBeNull();
    expect(drivenWhileOut(1_000, 1_017, 2)).toBe(17);
  });

  it('cannot tell without both odometers, nor from one that went backwards', () => {
    expect(drivenWhileOut(null, 1_010)).toBeNull();
    expect(drivenWhileOut(1_000, null)).toBeNull();
    expect(drivenWhileOut(1_000, 900)).toBeNull();
  });
});
