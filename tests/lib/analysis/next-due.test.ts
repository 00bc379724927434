import { describe, expect, it } from 'vitest';
import { evidenceOf } from '@/lib/analysis/evidence';
import { defaultLimits as limits } from '@/lib/analysis/limits';
import { nextEdge } from '@/lib/analysis/next-edge';
import { nextReadingDue } from '@/lib/analysis/next-reading-due';
import { owedReadings } from '@/lib/analysis/owed-readings';
import type { Reading } from '@/lib/analysis/reading';
import { aUnit, psi, quarterly, readingOn } from '../../support/a-unit';
import { inventedAssessment, noPassage } from '../../support/invented-assessment';

const asOf = 20_000;
const closedOn = asOf - 60;

describe('good readings owed after a closing', () => {
  const proof = readingOn(closedOn);
  const owed = (...readings: Reading[]) =>
    owedReadings(
      evidenceOf(
        aUnit({
          vacuumOrderClosedOn: closedOn,
          proofReadingIds: [proof.id],
          readings: [proof, ...readings],
        }),
      ),
      limits,
    );
  const first = { count: 2, nextDueOn: closedOn + 14 };
  const second = { count: 1, nextDueOn: closedOn + 45 };

  it('are two, 14 and 45 days after, the later 7 days after the first at the soonest', () => {
    expect(owed()).toEqual(first);
    expect(owed(readingOn(closedOn + 14))).toEqual(second);
    expect(owed(readingOn(closedOn + 38))).toEqual(second);
    expect(owed(readingOn(closedOn + 39))).toEqual({ count: 1, nextDueOn: closedOn + 46 });
    expect(owed(readingOn(closedOn + 14), readingOn(closedOn + 20))).toEqual(second);
    expect(owed(readingOn(closedOn + 14), readingOn(closedOn + 21))).toBeNull();
  });

  it('are none where nothing was closed', () => {
    expect(owedReadings(evidenceOf(aUnit()), limits)).toBeNull();
  });

  it('are not the proof, nor a reading of the day of closing', () => {
    const again = readingOn(closedOn, { id: 'again', entry: 1 });
    expect(owed(again, readingOn(closedOn + 14))).toEqual(second);
    const late = { ...readingOn(closedOn + 3), id: proof.id };
    const evidence = evidenceOf(
      aUnit({ vacuumOrderClosedOn: closedOn, proofReadingIds: [proof.id], readings: [late] }),
    );
    expect(owedReadings(evidence, limits)).toEqual(first);
  });

  const atTheCautions = {
    idle: limits.idleCautionSle,
    lowest: limits.lowestCautionSle,
    recovery: limits.recoveryCaution,
    holdLoss: limits.hold60Caution,
    barometer: 101.325,
  };

  it.each<[string, Partial<Reading>, object | null]>([
    ['at every caution', atTheCautions, null],
    ['idle past it', { ...atTheCautions, idle: psi(9.99) }, second],
    ['lowest past it', { ...atTheCautions, lowest: psi(7.99) }, second],
    ['recovery past it', { ...atTheCautions, recovery: 15.1 }, second],
    ['hold past it', { ...atTheCautions, holdLoss: psi(0.51) }, second],
    ['a film in the line', { line: 'film' }, second],
    ['a pedal gone hard', { pedal: 'went hard' }, second],
    ['what was not measured', { lowest: null, recovery: null, holdLoss: null, pedal: null }, null],
  ])('take a reading with %s', (_, change, answer) => {
    const bad = answer === second;
    const readings = [readingOn(closedOn + 14), readingOn(closedOn + 25, change)];
    // One that is not good starts the count again, with the next good one as the first.
    expect(owed(...readings)).toEqual(bad ? first : answer);
    if (bad) expect(owed(...readings, readingOn(closedOn + 34))).toEqual(second);
  });

  it('are not changed by a line that was not seen, or an idle that could not be read', () => {
    for (const change of [{ line: 'not seen' }, { idle: null, lowest: null }] as const) {
      const unseen = readingOn(closedOn + 25, change);
      expect(owed(readingOn(closedOn + 14), unseen)).toEqual(second);
      expect(owed(readingOn(closedOn + 14), unseen, readingOn(closedOn + 26))).toBeNull();
    }
  });
});

describe('the next reading', () => {
  const due = (
    mark: Parameters<typeof nextReadingDue>[0],
    change: Parameters<typeof aUnit>[0] = {},
    unconfirmedOn: number | null = null,
  ) =>
    nextReadingDue(
      mark,
      evidenceOf(aUnit(change)),
      { unconfirmedOn } as Parameters<typeof nextReadingDue>[2],
      limits,
      asOf,
    );
  const last = 19_990;

  it('comes after the interval, or after half of it while drifting', () => {
    expect(due('Holding')).toBe(last + 91);
    expect(due('Book in')).toBe(last + 91);
    expect(due('Drifting')).toBe(last + 45);
  });

  it('comes at once where there is none to go by', () => {
    expect(due('Unread', { readings: [] })).toBe(asOf);
    expect(due('Holding', {}, last)).toBe(last);
    expect(due('Holding', {}, last - 91)).toBe(last + 91);
    const unseen = [...quarterly(last - 91, [13, 13]), readingOn(last, { line: 'not seen' })];
    expect(due('Holding', { readings: unseen })).toBe(last);
  });

  it('comes as owed while proving, if that is sooner', () => {
    const vacuumOrderClosedOn = last - 5;
    const readings = [readingOn(last - 5), readingOn(last)];
    expect(due('Proving', { vacuumOrderClosedOn, readings })).toBe(last - 5 + 45);
    expect(due('Drifting', { vacuumOrderClosedOn: last - 1, readings })).toBe(last - 1 + 45);
  });

  it('is not due out of service, nor without a mark', () => {
    expect(due('Out of service')).toBeNull();
    expect(due(null)).toBeNull();
  });
});

describe('the edge that a unit meets first', () => {
  const dates = { median: 20_300, earliest80: 20_200, latest80: 20_500 };
  const unit = inventedAssessment('0417', {
    earliestEdge: 20_100,
    wear: { ...noPassage, ...dates, whyNone: null, score: 0.1 },
    stop: { ...noPassage, ...dates, median: 20_400, whyNone: null },
    belt: {
      ...inventedAssessment('0417', {}).belt,
      due: 20_350,
      earliest80: 20_340,
      latest80: 20_360,
      whyNone: null,
    },
  });
  const edge = (earliestEdgeCause: (typeof unit)['earliestEdgeCause']) =>
    nextEdge({ ...unit, earliestEdgeCause });

  it('has the dates of its cause', () => {
    expect(edge('wear')).toEqual({ cause: 'wear', ...dates, whyNone: null });
    expect(edge('stop')).toEqual({ cause: 'stop', ...dates, median: 20_400, whyNone: null });
    expect(edge('belt')).toEqual({
      cause: 'belt',
      median: 20_350,
      earliest80: 20_340,
      latest80: 20_360,
      whyNone: null,
    });
  });

  it('has one date for a bulletin, and none for a limit that is passed', () => {
    const none = { earliest80: null, latest80: null, whyNone: null };
    expect(edge('bulletin')).toEqual({ cause: 'bulletin', median: 20_100, ...none });
    expect(edge('limit passed')).toEqual({ cause: 'limit passed', median: null, ...none });
  });

  it('says why there is none', () => {
    expect(nextEdge(inventedAssessment('0417', {}))).toEqual({
      cause: null,
      median: null,
      earliest80: null,
      latest80: null,
      whyNone: 'no reading',
    });
  });
});
