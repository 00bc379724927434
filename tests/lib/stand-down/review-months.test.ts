import { describe, expect, it } from 'vitest';
import { dayFromIso } from '@/lib/calendar';
import { reviewMonths, type SpellToReview } from '@/lib/stand-down/review-months';

const day = (iso: string) => dayFromIso(iso) ?? Number.NaN;
const spell = (from: string, to: string | null, more: Partial<SpellToReview> = {}) => ({
  unitId: '0417',
  openedOn: day(from),
  releasedOn: to === null ? null : day(to),
  howFound: 'reading' as const,
  wasWarned: false,
  ...more,
});
const review = (spells: SpellToReview[], asOf = '2026-02-28', months = 2) =>
  reviewMonths({ spells, units: [], asOf: day(asOf), months, daysUntilOverdue: 105 });

// Own definitions; the figures below are counted by hand.
describe('the months of the safety review', () => {
  it('run over the turn of the year', () => {
    expect(review([], '2026-02-10', 4).map(({ month }) => month)).toEqual([
      '2025-11',
      '2025-12',
      '2026-01',
      '2026-02',
    ]);
  });

  it('share the days out between months, and count an open spell up to today', () => {
    const [january, february] = review([spell('2026-01-30', '2026-02-02')]);
    expect([january?.daysOut, february?.daysOut]).toEqual([2, 1]);
    const [, open] = review([spell('2026-02-20', null)], '2026-02-24');
    expect(open).toMatchObject({ opened: 1, closed: 0, daysOut: 5 });
  });

  it('tell how spells were found, whether warned, and which came again', () => {
    const spells = [
      spell('2026-01-03', '2026-01-05', { howFound: 'driver' }),
      spell('2026-02-03', '2026-02-05', { wasWarned: true }),
      spell('2026-02-07', '2026-02-08', { unitId: '0008', howFound: 'bulletin' }),
    ];
    expect(review(spells)).toMatchObject([
      { opened: 1, closed: 1, byDriver: 1, byReading: 0, warned: 0, repeated: 0 },
      { opened: 2, closed: 2, byReading: 1, byBulletin: 1, warned: 1, repeated: 1 },
    ]);
    const far = [spell('2025-01-03', '2025-01-05'), spell('2026-02-03', null)];
    expect(review(far)[1]?.repeated).toBe(0);
  });

  it('count units that were overdue at the end of a month', () => {
    const unit = { trackedFrom: day('2025-09-01'), leftOn: null, readOn: [day('2025-10-01')] };
    const overdue = (readOn: number[], leftOn: number | null = null) =>
      reviewMonths({
        spells: [],
        units: [{ ...unit, readOn, leftOn }],
        asOf: day('2026-02-28'),
        months: 2,
        daysUntilOverdue: 105,
      }).map((month) => month.overdue);
    expect(overdue([day('2025-10-01')])).toEqual([1, 1]);
    expect(overdue([day('2025-10-18')])).toEqual([0, 1]);
    expect(overdue([day('2025-10-01'), day('2026-02-14')])).toEqual([1, 0]);
    expect(overdue([day('2025-10-01')], day('2026-02-01'))).toEqual([1, 0]);
    expect(overdue([])).toEqual([1, 1]);
  });
});
