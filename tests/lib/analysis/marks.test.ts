import { describe, expect, it } from 'vitest';
import { assessUnit } from '@/lib/analysis/assess-unit';
import type { Reading } from '@/lib/analysis/reading';
import { aUnit, fitted, psi, quarterly, readingOn } from '../../support/a-unit';

const asOf = 20_000;
const rulesOf = (input: Parameters<typeof aUnit>[0]) =>
  assessUnit(aUnit(input)).reasons.map(({ rule }) => rule as string);
const markOf = (input: Parameters<typeof aUnit>[0]) => assessUnit(aUnit(input)).mark;
/** Four sound quarters, then one reading with a change. */
const thenOne = (change: Partial<Reading>) => [
  ...quarterly(asOf - 100, [13, 13.1, 12.9, 13]),
  readingOn(asOf - 5, change),
];

// The default limits: common practice, no published source. Each is crossed strictly.
describe('out of service', () => {
  it.each<[string, Partial<Reading>]>([
    ['idle below stop', { idle: psi(6.99), lowest: psi(5) }],
    ['lowest below stop', { lowest: psi(3.99) }],
    ['recovery over stop', { recovery: 30.1 }],
    ['hold loss over stop', { holdLoss: psi(1.51), holdTime: 60 }],
    ['hold loss over stop', { holdLoss: psi(6.01), holdTime: 300 }],
    ['line wet', { line: 'wet' }],
    ['pedal hard', { pedal: 'went hard' }],
    ['pedal hard', { pedal: 'hard' }],
    ['belt off or shredded', { belt: 'off' }],
    ['belt off or shredded', { belt: 'shredded' }],
  ])('%s: %o', (rule, change) => {
    const assessed = assessUnit(aUnit({ readings: thenOne(change) }));
    expect(assessed.mark).toBe('Out of service');
    expect(assessed.reasons.map((reason) => reason.rule)).toContain(rule);
    expect(assessed.mayGoOut).toBe(false);
    expect(assessed.nextReadingDue).toBeNull();
  });

  it.each<[Partial<Reading>]>([
    [{ idle: psi(7), lowest: psi(5) }],
    [{ lowest: psi(4) }],
    [{ recovery: 30 }],
    [{ holdLoss: psi(1.5) }],
    [{ holdLoss: psi(6), holdTime: 300 }],
  ])('is not reached at the limit itself: %o', (change) => {
    expect(markOf({ readings: thenOne(change) })).toBe('Book in');
  });

  it('judges the vacuum that is there: the same pump stops in the mountains', () => {
    // 5,000 ft: 84.307 kPa (US Standard Atmosphere 1976). 8 psi SLE is 6.66 psi there.
    const weak = { idle: psi(6.66), lowest: psi(5), barometer: 84.307 };
    const unit = { unit: '0417', elevation: 1524, builtOn: null, trackedFrom: null };
    expect(rulesOf({ unit, readings: [readingOn(asOf, weak)] })).toContain('idle below stop');
    const atSeaLevel = readingOn(asOf, { idle: psi(8), lowest: psi(6) });
    expect(rulesOf({ readings: [atSeaLevel] })).not.toContain('idle below stop');
  });

  it('holds what could not be measured again against the unit', () => {
    const readings = [
      readingOn(asOf - 50, { lowest: psi(3) }),
      readingOn(asOf - 5, { lowest: null }),
    ];
    expect(rulesOf({ readings })).toContain('lowest below stop');
  });

  it('ends for a new pump, and a re-read of the day supersedes', () => {
    const failed = readingOn(asOf - 50, { idle: psi(5), lowest: psi(4.5) });
    expect(markOf({ readings: [failed] })).toBe('Out of service');
    const replaced = {
      readings: [failed, readingOn(asOf - 10)],
      fitments: [fitted('pump', asOf - 20)],
    };
    expect(markOf(replaced)).not.toBe('Out of service');
    const reread = readingOn(asOf - 50, { entry: 1 });
    expect(markOf({ readings: [failed, reread] })).not.toBe('Out of service');
  });

  it('follows an open spell and a do-not-drive bulletin, whatever was read', () => {
    expect(markOf({ openSpell: { why: 'hard pedal on the road', openedOn: asOf - 1 } })).toBe(
      'Out of service',
    );
    const bulletin = { bulletinId: 'b', number: 'B-7', dueOn: null, isDoNotDrive: true };
    expect(markOf({ bulletinsDue: [bulletin] })).toBe('Out of service');
  });

  it('leaves by release only, and old readings never bring it back', () => {
    const failed = readingOn(asOf - 50, { idle: psi(5), lowest: psi(4.5) });
    const proof = readingOn(asOf - 40);
    const released = {
      readings: [failed, proof],
      releasedOn: asOf - 40,
      proofReadingIds: [proof.id],
    };
    expect(markOf(released)).toBe('Proving');
    const late = readingOn(asOf - 45, { idle: psi(4), lowest: psi(3.5), entry: 9 });
    expect(markOf({ ...released, readings: [failed, proof, late] })).toBe('Proving');
    const again = readingOn(asOf - 10, { idle: psi(5), lowest: psi(4.5) });
    expect(markOf({ ...released, readings: [failed, proof, again] })).toBe('Out of service');
  });
});

describe('book in', () => {
  it.each<[string, Partial<Reading>]>([
    ['idle below caution', { idle: psi(9.99), lowest: psi(9) }],
    ['lowest below caution', { lowest: psi(7.99) }],
    ['recovery over caution', { recovery: 15.1 }],
    ['recovery over baseline', { recovery: 12.1 }],
    ['hold loss over caution', { holdLoss: psi(0.51) }],
    ['hold loss over caution', { holdLoss: psi(0.81), holdTime: 300 }],
    ['belt worn', { belt: 'cracked' }],
    ['belt worn', { belt: 'oily' }],
  ])('%s: %o', (rule, change) => {
    const assessed = assessUnit(aUnit({ readings: thenOne(change) }));
    expect(assessed.mark).toBe('Book in');
    expect(assessed.reasons.map((reason) => reason.rule)).toContain(rule);
  });

  it.each<[Partial<Reading>]>([
    [{ lowest: psi(8) }],
    [{ recovery: 12 }],
    [{ holdLoss: psi(0.5) }],
    [{ holdLoss: psi(0.8), holdTime: 300 }],
  ])('is not reached at the limit itself: %o', (change) => {
    expect(markOf({ readings: thenOne(change) })).toBe('Holding');
  });

  it('stands until a vacuum order is closed, then proves', () => {
    const readings = [
      readingOn(asOf - 300, { holdLoss: psi(0.9) }),
      ...quarterly(asOf - 10, [13, 13, 13]),
    ];
    expect(markOf({ readings })).toBe('Book in');
    expect(markOf({ readings, vacuumOrderClosedOn: asOf - 5 })).toBe('Proving');
  });

  it('ends after two visits without cause where no orders are kept', () => {
    const { vacuumOrderClosedOn, ...noOrders } = aUnit();
    const bad = readingOn(asOf - 250, { holdLoss: psi(0.9) });
    const good = [readingOn(asOf - 150), readingOn(asOf - 50)];
    expect(assessUnit({ ...noOrders, readings: [bad, good[0]!], asOf: asOf - 100 }).mark).toBe(
      'Book in',
    );
    expect(assessUnit({ ...noOrders, readings: [bad, ...good] }).mark).toBe('Holding');
  });

  it('counts the belt and bulletins up to 13 weeks ahead', () => {
    const due = (dueOn: number) => [{ bulletinId: 'b', number: 'B-7', dueOn, isDoNotDrive: false }];
    expect(markOf({ bulletinsDue: due(asOf + 91) })).toBe('Book in');
    expect(markOf({ bulletinsDue: due(asOf + 92) })).toBe('Holding');
    // 100 km a day: 80,467 km after day 19,280 is day 20,085, 85 days ahead.
    const readings = quarterly(19_990, [13, 13, 13, 13, 13, 13, 13, 13]).map((reading) => ({
      ...reading,
      odometer: 10_000 + 100 * (reading.readOn - 19_280),
    }));
    const belt = { ...fitted('belt', 19_280), fittedOdometer: 10_000 };
    expect(rulesOf({ readings, fitments: [belt] })).toContain('belt due');
    const later = { ...fitted('belt', 19_380), fittedOdometer: 20_000 };
    expect(rulesOf({ readings, fitments: [later] })).not.toContain('belt due');
  });

  it('forgets the belt that came off', () => {
    const readings = [
      readingOn(asOf - 60, { belt: 'cracked' }),
      readingOn(asOf - 5, { belt: null }),
    ];
    expect(rulesOf({ readings })).toContain('belt worn');
    expect(rulesOf({ readings, fitments: [fitted('belt', asOf - 30)] })).not.toContain('belt worn');
  });

  it('comes from the wear score, from four visits', () => {
    const falling = [13, 12.4, 11.7, 11.2, 10.6];
    expect(rulesOf({ readings: quarterly(asOf - 5, falling) })).toContain('wear score');
    expect(rulesOf({ readings: quarterly(asOf - 5, falling.slice(-3)) })).not.toContain(
      'wear score',
    );
  });
});

describe('the line', () => {
  const withLines = (...lines: Reading['line'][]) => ({
    readings: lines.map((line, k) => readingOn(asOf - 5 - 91 * (lines.length - 1 - k), { line })),
  });
  it.each<[Reading['line'][], string]>([
    [['dry', 'dry', 'film'], 'Drifting'],
    [['dry', 'film', 'dry'], 'Drifting'],
    [['film', 'dry', 'dry'], 'Holding'],
    [['dry', 'film', 'film'], 'Book in'],
    [['film', 'not seen', 'film'], 'Book in'],
    [['dry', 'dry', 'wet'], 'Out of service'],
    [['dry', 'dry', 'not seen'], 'Unread'],
  ])('%o gives %s', (lines, mark) => {
    expect(markOf(withLines(...lines))).toBe(mark);
  });
});

describe('unread', () => {
  it('comes 105 days after the last sound reading, never before', () => {
    expect(markOf({ readings: [readingOn(asOf - 105)] })).toBe('Holding');
    expect(markOf({ readings: [readingOn(asOf - 106)] })).toBe('Unread');
    expect(markOf({ readings: [] })).toBe('Unread');
    expect(
      rulesOf({ readings: [readingOn(asOf - 106), readingOn(asOf, { idle: null })] }),
    ).toContain('reading overdue');
  });

  it('is not cleared by a reading that cannot be true', () => {
    const impossible = readingOn(asOf, { idle: psi(14.6) });
    const assessed = assessUnit(aUnit({ readings: [readingOn(asOf - 60), impossible] }));
    expect(assessed.mark).toBe('Unread');
    expect(assessed.setAside).toEqual([
      { readingId: impossible.id, why: 'more vacuum than the air there can give' },
    ]);
  });
});

describe('proving', () => {
  const closed = { vacuumOrderClosedOn: asOf - 60, fitments: [fitted('pump', asOf - 60)] };
  const proof = readingOn(asOf - 60);
  const since = (...days: number[]) => [proof, ...days.map((day) => readingOn(asOf - day))];

  it('ends with two good readings 7 days apart; the proof does not count', () => {
    expect(markOf({ ...closed, readings: since() })).toBe('Proving');
    expect(markOf({ ...closed, readings: since(46) })).toBe('Proving');
    expect(markOf({ ...closed, readings: since(20, 14) })).toBe('Proving');
    expect(markOf({ ...closed, readings: since(20, 13) })).toBe('Holding');
  });

  it('is due 14 and 45 days after', () => {
    const dueOn = (readings: Reading[]) =>
      assessUnit(aUnit({ ...closed, readings })).nextReadingDue;
    expect(dueOn(since())).toBe(asOf - 60 + 14);
    expect(dueOn(since(46))).toBe(asOf - 60 + 45);
    expect(dueOn(since(18))).toBe(asOf - 11);
  });

  it('starts again after a reading that is not good', () => {
    const film = readingOn(asOf - 30, { line: 'film' });
    const readings = [...since(46), film, readingOn(asOf - 20)];
    expect(rulesOf({ ...closed, readings })).toContain('good readings owed');
  });
});

describe('drifting', () => {
  it('comes with two visits running 0.75 psi below the unit’s own start, not with one', () => {
    const own = [13, 13, 13, 13, 13];
    const readings = (...last: number[]) => quarterly(asOf - 5, [...own, ...last]);
    expect(rulesOf({ readings: readings(12.2) })).not.toContain('two below baseline');
    expect(rulesOf({ readings: readings(12.2, 12.3) })).not.toContain('two below baseline');
    expect(rulesOf({ readings: readings(12.2, 12.2) })).toContain('two below baseline');
    expect(rulesOf({ readings: readings(12.2, 12.2, 13) })).toContain('two below baseline');
    expect(rulesOf({ readings: readings(12.2, 12.2, 13, 13) })).not.toContain('two below baseline');
  });
});

describe('a reading not yet confirmed', () => {
  const sound = quarterly(asOf - 60, [13, 13.1, 12.9, 13, 13, 13.1]);

  it('counts against limits at once, and asks to be read again the same day', () => {
    const low = readingOn(asOf, { idle: psi(6.5), lowest: psi(5) });
    const assessed = assessUnit(aUnit({ readings: [...sound, low] }));
    expect(assessed.mark).toBe('Out of service');
    expect(assessed.latest?.isUnconfirmed).toBe(true);
    expect(assessed.reasons.map(({ rule }) => rule)).toContain('unconfirmed reading');
  });

  it('clears nothing: the mark is the worse of the verdicts with and without it', () => {
    const stopped = readingOn(asOf - 30, { idle: psi(6.5), lowest: psi(5) });
    const weak = [
      ...quarterly(
        asOf - 60,
        [7.6, 7.4, 7.5, 7.4].map((idle) => idle),
      ),
      stopped,
    ].map((reading) => ({ ...reading, lowest: psi(5) }));
    const high = readingOn(asOf, { idle: psi(13) });
    expect(markOf({ readings: [...weak, high] })).toBe('Out of service');
  });

  it('is forgotten once later visits show it to have been in error', () => {
    const wrong = readingOn(asOf - 55, { idle: psi(6.4), lowest: psi(4.8) });
    const readings = [...sound, wrong, readingOn(asOf - 5), readingOn(asOf)];
    const later = [...sound, wrong, ...[40, 20, 5].map((ago) => readingOn(asOf - ago))];
    expect(markOf({ readings })).not.toBe('Out of service');
    expect(markOf({ readings: later })).toBe('Holding');
  });
});

it('has no mark while laid up or gone', () => {
  expect(assessUnit(aUnit({ laidUpOn: asOf - 1 }))).toMatchObject({
    mark: null,
    standing: 'laid up',
    mayGoOut: false,
    nextReadingDue: null,
  });
  expect(markOf({ leftFleetOn: asOf })).toBeNull();
  expect(markOf({ laidUpOn: asOf + 1 })).toBe('Holding');
});
