import { describe, expect, it } from 'vitest';
import { assessUnit } from '@/lib/analysis/assess-unit';
import type { Reason } from '@/lib/analysis/assessment';
import { baselineOf } from '@/lib/analysis/baseline';
import { earliestEdge } from '@/lib/analysis/earliest-edge';
import { idleTrendOf, recoveryTrendOf } from '@/lib/analysis/idle-trend';
import { defaultLimits } from '@/lib/analysis/limits';
import { normalise } from '@/lib/analysis/normalise';
import type { Reading } from '@/lib/analysis/reading';
import { reasonsOf, reasonText } from '@/lib/analysis/rules';
import { bulletinFindings, standingFindings } from '@/lib/analysis/standing-findings';
import { oneOfEach, rankOfMark, verdictFrom, whatChangesItBack } from '@/lib/analysis/verdict';
import { readingsSince, seriesOf, visitsOf } from '@/lib/analysis/visits';
import { dayFromIso } from '@/lib/calendar';
import { aUnit, psi, quarterly, readingOn } from '../../support/a-unit';
import { inventedAssessment, noPassage } from '../../support/invented-assessment';

const asOf = dayFromIso('2024-10-04')!;
const readOn = asOf - 5;
const before = quarterly(asOf - 100, [13, 13.1, 12.9, 13]);
const judged = (change: Partial<Reading>, input: Parameters<typeof aUnit>[0] = {}) =>
  assessUnit(aUnit({ asOf, readings: [...before, readingOn(readOn, change)], ...input }));
const reasonOf = (rule: string, reasons: readonly Reason[]) =>
  reasons.find((reason) => reason.rule === rule);

/** What a reason says of one reading on 29 September 2024: the figures are those put in. */
describe('a reason states what was read, the limit and the day', () => {
  it.each<[string, Partial<Reading>, Partial<Reason>]>([
    [
      'idle below stop',
      { idle: psi(6.5), lowest: psi(5) },
      {
        value: psi(6.5),
        limit: psi(7),
        text: 'Idle 6.5 psi as read on 2024-09-29, below the stop of 7.0 psi.',
      },
    ],
    [
      'lowest below stop',
      { lowest: psi(3.5) },
      {
        value: psi(3.5),
        limit: psi(4),
        text: 'Lowest 3.5 psi as read on 2024-09-29, below the stop of 4.0 psi.',
      },
    ],
    [
      'recovery over stop',
      { recovery: 31 },
      {
        value: 31,
        limit: 30,
        text: 'Recovery took 31.0 s on 2024-09-29, over the stop of 30.0 s.',
      },
    ],
    [
      'hold loss over stop',
      { holdLoss: psi(2) },
      {
        value: psi(2),
        limit: psi(1.5),
        about: '60 s',
        text: 'Lost 2.0 psi in 60 s on 2024-09-29, over the stop of 1.5 psi.',
      },
    ],
    [
      'pedal hard',
      { pedal: 'went hard' },
      { about: 'went hard', text: 'Pedal went hard by the fourth press on 2024-09-29.' },
    ],
    [
      'pedal hard',
      { pedal: 'hard' },
      { about: 'hard', text: 'Pedal hard from the start on 2024-09-29.' },
    ],
    ['line wet', { line: 'wet' }, { text: 'Line at the booster wet with oil on 2024-09-29.' }],
    [
      'belt off or shredded',
      { belt: 'shredded' },
      { about: 'shredded', text: 'Pump belt shredded on 2024-09-29.' },
    ],
    [
      'idle below caution',
      { idle: psi(9), lowest: psi(8.5) },
      {
        value: psi(9),
        limit: psi(10),
        text: 'Idle 9.0 psi at sea level on 2024-09-29, below the limit of 10.0 psi.',
      },
    ],
    [
      'lowest below caution',
      { lowest: psi(7.5) },
      {
        value: psi(7.5),
        limit: psi(8),
        text: 'Lowest 7.5 psi at sea level on 2024-09-29, below the limit of 8.0 psi.',
      },
    ],
    [
      'hold loss over caution',
      { holdLoss: psi(1), holdTime: 300 },
      {
        value: psi(1),
        limit: psi(0.8),
        about: '5 min',
        text: 'Lost 1.0 psi in 5 min on 2024-09-29, over the limit of 0.8 psi.',
      },
    ],
    [
      'recovery over caution',
      { recovery: 16 },
      {
        value: 16,
        limit: 15,
        text: 'Recovery took 16.0 s on 2024-09-29, over the limit of 15.0 s.',
      },
    ],
    [
      'recovery over baseline',
      { recovery: 12.5 },
      {
        value: 12.5,
        limit: 12,
        text: 'Recovery took 12.5 s on 2024-09-29; its own baseline allows 12.0 s.',
      },
    ],
    ['belt worn', { belt: 'oily' }, { about: 'oily', text: 'Pump belt oily on 2024-09-29.' }],
    ['film once', { line: 'film' }, { text: 'Oil film in the line on 2024-09-29.' }],
    ['line not seen', { line: 'not seen' }, { text: 'The line was not seen on 2024-09-29.' }],
  ])('%s', (rule, change, said) => {
    expect(reasonOf(rule, judged(change).reasons)).toMatchObject({
      ...said,
      on: readOn,
      readingIds: [`r${readOn}`],
    });
  });

  it('in the units of measure of the reader, and to a third place where two would look the same', () => {
    const [reason] = judged(
      { idle: psi(6.998), lowest: psi(5) },
      { pressureUnit: 'inHg', distanceUnit: 'km' },
    ).reasons;
    expect(reason!.text).toContain('14.2');
    expect(reason!.text).toContain('inHg');
    const close = { rule: 'idle below stop', value: psi(6.998), limit: psi(7), on: readOn };
    expect(reasonText(close)).toBe(
      'Idle 6.998 psi as read on 2024-09-29, below the stop of 7.000 psi.',
    );
    expect(reasonText({ ...close, value: psi(7) })).toContain('Idle 7.0 psi');
    expect(reasonText({ rule: 'belt due', limit: 80_467.2, on: asOf })).toBe(
      'Belt due 2024-10-04, at 50,000 mi.',
    );
    expect(reasonText({ rule: 'a rule of an older version' })).toBe('a rule of an older version');
    expect(reasonText({ rule: 'toString' })).toBe('toString');
  });

  it('the day and length of a silence', () => {
    const { reasons } = assessUnit(aUnit({ asOf, readings: [readingOn(asOf - 106)] }));
    expect(reasonOf('reading overdue', reasons)).toMatchObject({
      value: 106,
      limit: 105,
      on: asOf - 1,
      readingIds: [`r${asOf - 106}`],
      text: 'Last sound reading 106 days ago; 105 days are allowed.',
    });
    expect(
      reasonOf(
        'reading overdue',
        assessUnit(aUnit({ asOf, readings: [readingOn(asOf - 105)] })).reasons,
      ),
    ).toBeUndefined();
    expect(assessUnit(aUnit({ asOf, readings: [] })).reasons.map(({ text }) => text)).toEqual([
      'No sound reading on record.',
    ]);
  });

  it('the day and why of a newest reading that cannot be true, while no sound one is newer', () => {
    const impossible = readingOn(asOf - 5, { idle: psi(15) });
    const rule = 'newest reading set aside';
    const rulesAfter = (readings: Reading[]) =>
      reasonOf(rule, assessUnit(aUnit({ asOf, readings })).reasons);
    expect(rulesAfter([...before, impossible])).toMatchObject({
      about: 'more vacuum than the air there can give',
      on: asOf - 5,
      readingIds: [impossible.id],
    });
    expect(rulesAfter([impossible])).toBeDefined();
    expect(rulesAfter([...before, impossible, readingOn(asOf - 4)])).toBeUndefined();
    const readAgain = { ...readingOn(asOf - 5, { entry: 1 }) };
    expect(rulesAfter([...before, impossible, readAgain])).toBeUndefined();
  });

  it('the day and distance of a belt within the horizon, and no distance where none is known', () => {
    const { belt } = inventedAssessment('0417', {});
    const findings = (due: number, distanceLeft: number | null) =>
      standingFindings(aUnit({ asOf }), { ...belt, due, distanceLeft });
    const limit = defaultLimits.beltDistance;
    expect(findings(asOf + 91, 1234)).toEqual([
      { rule: 'belt due', limit, on: asOf + 91, value: 1234 },
    ]);
    expect(findings(asOf + 91, null)).toEqual([{ rule: 'belt due', limit, on: asOf + 91 }]);
    expect(findings(asOf + 92, 1234)).toEqual([]);
  });

  it('what people and bulletins said', () => {
    const { reasons } = judged(
      {},
      {
        openSpell: { openedOn: asOf, why: 'Pedal sinks.' },
        bulletinsDue: [
          { bulletinId: 'B1', number: 'B1', dueOn: asOf + 91, isDoNotDrive: false },
          { bulletinId: 'B2', number: 'B2', dueOn: asOf + 92, isDoNotDrive: true },
        ],
      },
    );
    expect(reasons.map(({ text }) => text)).toEqual([
      'Stood down since 2024-10-04: Pedal sinks.',
      'Bulletin B2 says not to drive until it is done.',
      'Bulletin B1 due 2025-01-03.',
    ]);
    const later = { openSpell: { openedOn: asOf + 1, why: 'Pedal sinks.' } };
    expect(judged({}, later).mark).toBe('Holding');
    expect(
      bulletinFindings(
        [{ bulletinId: 'B3', number: 'B3', dueOn: null, isDoNotDrive: false }],
        asOf,
      ),
    ).toEqual([]);
  });
});

describe('reasons together', () => {
  it('come worst first, each once, the stronger for the weaker', () => {
    const findings = oneOfEach([
      { rule: 'film once', on: 1 },
      { rule: 'wear score rising', value: 0.3 },
      { rule: 'bulletin due', about: 'B1' },
      { rule: 'film twice', on: 2 },
      { rule: 'bulletin due', about: 'B2' },
      { rule: 'wear score', value: 0.3 },
      { rule: 'film twice', on: 3 },
      { rule: 'line wet', on: 3 },
    ]);
    expect(reasonsOf(findings).map(({ rule, on }) => [rule, on])).toEqual([
      ['line wet', 3],
      ['film twice', 2],
      ['wear score', undefined],
      ['bulletin due', undefined],
      ['bulletin due', undefined],
    ]);
    expect(oneOfEach([{ rule: 'film once' }, { rule: 'wear score rising' }])).toHaveLength(2);
  });

  it('give the mark of the worst, and say what changes it back', () => {
    const verdict = (...rules: Parameters<typeof reasonsOf>[0][number]['rule'][]) =>
      verdictFrom(reasonsOf(rules.map((rule) => ({ rule }))));
    const back = (...rules: Parameters<typeof verdict>) => whatChangesItBack(verdict(...rules));
    expect(verdict().reasons.map(({ rule }) => rule)).toEqual(['inside limits']);
    expect(verdict('unconfirmed reading').reasons).toHaveLength(2);
    expect(verdict('film once', 'line wet').mark).toBe('Out of service');
    expect(back('line wet')).toMatch(/^Repair certified, a proof reading that passes/);
    expect(back('belt due')).toBe('A new belt fitted.');
    expect(back('belt worn', 'bulletin due')).toBe('A new belt fitted; the bulletin done.');
    expect(back('wear score', 'film once')).toBe(
      'A vacuum work order closed, repaired or nothing found.',
    );
    expect(back('line not seen')).toBe(
      'A reading with the line off at the booster and looked into.',
    );
    for (const rule of ['reading overdue', 'newest reading set aside'] as const)
      expect(back('line not seen', rule)).toBe('A sound reading.');
    expect(back('never read')).toBe('A sound reading.');
    expect(back('good readings owed')).toMatch(/^Two readings inside caution, dry/);
    expect(back('film once')).toBe('Two readings running without cause.');
    expect(back()).toBe('Nothing to change: read again when due.');
    expect(['Out of service', 'Book in', null].map((mark) => rankOfMark(mark as never))).toEqual([
      0, 1, 6,
    ]);
  });

  it('have the earliest day that any of them may need the bay', () => {
    const { belt } = inventedAssessment('0417', {});
    const nothing = { reasons: [], stop: noPassage, wear: noPassage, belt, bulletins: [], asOf };
    const [bookedOn] = reasonsOf([{ rule: 'film twice', on: asOf - 9 }]);
    const wear = { ...noPassage, earliest80: asOf + 50 };
    expect(earliestEdge(nothing)).toBeNull();
    expect(earliestEdge({ ...nothing, wear, stop: wear })).toEqual({
      on: asOf + 50,
      cause: 'stop',
    });
    expect(earliestEdge({ ...nothing, wear, belt: { ...belt, due: asOf + 49 } })).toEqual({
      on: asOf + 49,
      cause: 'belt',
    });
    const early = { ...belt, due: asOf + 60, earliest80: asOf + 51 };
    expect(earliestEdge({ ...nothing, wear, belt: early })!.cause).toBe('wear');
    expect(
      earliestEdge({
        ...nothing,
        wear,
        bulletins: [{ bulletinId: 'B1', number: 'B1', dueOn: asOf + 3, isDoNotDrive: false }],
      }),
    ).toEqual({ on: asOf + 3, cause: 'bulletin' });
    const of = (...reasons: Reason[]) => earliestEdge({ ...nothing, wear, reasons });
    expect(of(bookedOn!)).toEqual({ on: asOf - 9, cause: 'limit passed' });
    expect(of(...reasonsOf([{ rule: 'do-not-drive bulletin' }]))!.on).toBe(asOf);
    expect(of(...reasonsOf([{ rule: 'wear score' }, { rule: 'film once', on: 1 }]))!.cause).toBe(
      'wear',
    );
  });
});

describe('what reasons rest on', () => {
  const sound = (reading: Reading) => {
    const normalised = normalise(reading, 0);
    if (!normalised.isSound) throw new Error(normalised.why);
    return normalised.reading;
  };
  const readings = [
    readingOn(100, { idle: psi(13) }),
    readingOn(200, { idle: psi(12) }),
    readingOn(200, { idle: psi(12.5), recovery: null, entry: 1 }),
    readingOn(300, { idle: null, lowest: null }),
    readingOn(465.25, { idle: psi(12), recovery: 10 }),
  ].map(sound);
  const visits = visitsOf(readings);

  it('visits are days, and a re-read supersedes what it measured', () => {
    expect(visits.map(({ day, readings: those }) => [day, those.length])).toEqual([
      [100, 1],
      [200, 2],
      [300, 1],
      [465.25, 1],
    ]);
    expect(seriesOf(visits, ({ idle }) => idle).map(({ value }) => value)).toEqual(
      [13, 12.5, 12].map(psi),
    );
    expect(seriesOf(visits, ({ recovery }) => recovery).map(({ value }) => value)).toEqual([
      8, 8, 8, 10,
    ]);
  });

  it('a baseline is the middle of the first three that measured it', () => {
    expect(baselineOf(visits)).toEqual({ idleSle: psi(12.5), lowestSle: psi(10.5), recovery: 8 });
    const unsorted = [
      { idle: psi(12), recovery: 10 },
      { idle: psi(13), recovery: 8 },
      { idle: psi(12.5), recovery: 9 },
    ].map((change, k) => sound(readingOn(100 * k, change)));
    expect(baselineOf(visitsOf(unsorted))).toMatchObject({ idleSle: psi(12.5), recovery: 9 });
    expect(baselineOf(visits.slice(0, 3))).toEqual({ idleSle: null, lowestSle: null, recovery: 8 });
  });

  it('a trend is a slope a year, from three visits on', () => {
    const trend = idleTrendOf(visits, readings[4]!, 1);
    expect(trend).toMatchObject({ latestSle: psi(12), latestAsRead: psi(12), levelSle: 1 });
    expect(trend.slopePerYear).toBeCloseTo(-psi(1), 6);
    expect(idleTrendOf(visits.slice(0, 3), null, null)).toEqual({
      latestSle: null,
      latestAsRead: null,
      levelSle: null,
      slopePerYear: null,
      slopeLower: null,
      slopeUpper: null,
    });
    expect(recoveryTrendOf(visits, 8)).toMatchObject({ latest: 10, baseline: 8 });
    expect(recoveryTrendOf([], null)).toEqual({ latest: null, baseline: null, slopePerYear: null });
  });

  it('what was read before a case was closed has been answered', () => {
    const since = (closing: Parameters<typeof readingsSince>[1]) =>
      readingsSince(readings, closing).map(({ readOn: day, entry }) => day + entry);
    const closing = { closedOn: 200, isRelease: true, proofReadingIds: [] };
    expect(since(null)).toEqual([100, 200, 201, 300, 465.25]);
    expect(since(closing)).toEqual([300, 465.25]);
    expect(since({ ...closing, proofReadingIds: ['r200-1'] })).toEqual([201, 300, 465.25]);
    expect(since({ ...closing, proofReadingIds: ['r300'] })).toEqual([300, 465.25]);
    // What is called a proof but was read after the closing proves nothing of it.
    expect(since({ ...closing, proofReadingIds: ['r465.25'] })).toEqual([300, 465.25]);
  });
});
