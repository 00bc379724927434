import { describe, expect, it } from 'vitest';
import { type SheetSentence, sheetSentence } from '@/app/units/[unit]/sentence';
import { reasonsOf } from '@/lib/analysis/rules';
import type { UnitAssessment } from '@/lib/analysis/unit-assessment';
import { dayFromIso } from '@/lib/calendar';
import { toKilopascals } from '@/lib/measure';
import { inventedAssessment } from '../../support/invented-assessment';

const day = (iso: string): number => dayFromIso(iso) ?? Number.NaN;
const asOf = day('2025-11-25');
const never = inventedAssessment('0417', { asOf, reasons: reasonsOf([{ rule: 'never read' }]) });
const said = (stated: Partial<UnitAssessment>): SheetSentence =>
  sheetSentence({ ...never, readingCount: 6, ...stated }, toKilopascals(10, 'psi'), {
    pressure: 'psi',
    distance: 'mi',
  });
const whole = (one: SheetSentence) => `${one.finding} ${one.use} ${one.action}`.trim();

const drift: Partial<UnitAssessment> = {
  mark: 'Book in',
  mayGoOut: true,
  reasons: reasonsOf([{ rule: 'wear score', value: 0.4, limit: 0.18 }]),
  idle: { ...never.idle, slopePerYear: -toKilopascals(1.2, 'psi') },
  wear: {
    ...never.wear,
    median: day('2026-01-27'),
    earliest80: day('2025-12-30'),
    latest80: day('2026-03-17'),
    whyNone: null,
  },
  earliestEdge: day('2025-12-30'),
};

describe('the sentence of a unit sheet', () => {
  it('says slope, forecast with its interval, use and the early edge to act by', () => {
    expect(whole(said(drift))).toBe(
      'Idle vacuum falls 0.30 psi a quarter. It should meet the wear limit of 10.0 psi in 9 weeks (2026-W05), 8 in 10: week 5 to 16. May be used now. Bay it before 2025-12-30, in 5 weeks (2026-W01).',
    );
  });

  it('does not look forward to a day that is gone', () => {
    const wear = { ...never.wear, median: asOf - 77, earliest80: asOf - 80, latest80: asOf - 70 };
    expect(said({ ...drift, wear }).finding).toBe(
      'Idle vacuum falls 0.30 psi a quarter. It has most likely met the wear limit of 10.0 psi by now.',
    );
  });

  it('asks for the bay at once where the early edge has come', () => {
    expect(said({ ...drift, earliestEdge: asOf }).action).toBe('Book it into a bay now.');
  });

  it('does not let silence speak for a unit', () => {
    expect(whole(said({ readingCount: 0 }))).toBe('Never read. Read it. No reading speaks for it.');
    const overdue = reasonsOf([{ rule: 'reading overdue', value: 150, limit: 105 }]);
    expect(said({ reasons: overdue, nextReadingDue: asOf - 45 }).action).toBe('Read it now.');
  });

  it('forbids the road to a unit out of service', () => {
    const one = said({
      mark: 'Out of service',
      mayGoOut: false,
      reasons: reasonsOf([{ rule: 'line wet', on: asOf }]),
    });
    expect(one.use).toBe('Must not be driven.');
    expect(one.action).toContain('two signatures');
  });

  it('says that laid-up units are read before use', () => {
    expect(whole(said({ mark: null, standing: 'laid up' }))).toContain(
      'read it before it is driven',
    );
  });

  it('never calls a unit safe', () => {
    for (const mark of ['Holding', 'Proving', 'Drifting', 'Book in', 'Unread'] as const) {
      expect(whole(said({ ...drift, mark }))).not.toMatch(/safe/i);
    }
  });
});
