import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { dayFromIso } from '@/lib/calendar';
import { readingsRound, type UnitToRead } from '@/lib/planning/readings-round';

const firstMonday = dayFromIso('2026-01-05')!;
const rules = { firstMonday, weekCount: 13, intervalDays: 91, graceDays: 14 };
const unit = (id: string, daysAgo: number | null, risk: number | null = null): UnitToRead => ({
  unit: id,
  shedId: 'river',
  dueOn: daysAgo === null ? null : firstMonday - daysAgo + rules.intervalDays,
  risk,
});
const weekOf = (entry: { readonly monday: number }): number => (entry.monday - firstMonday) / 7;

describe('readingsRound', () => {
  it('reads the never read and the overdue first, then the riskier', () => {
    const round = readingsRound(
      [unit('fresh', 5), unit('risky', 5, 0.8), unit('overdue', 120), unit('never', null)],
      { ...rules, weekCount: 4 },
    );
    expect(round.map((entry) => [entry.unit, weekOf(entry)])).toEqual([
      ['never', 0],
      ['overdue', 1],
      ['risky', 2],
      ['fresh', 3],
    ]);
    expect(round[1]).toMatchObject({ dueOn: firstMonday - 29, isOverdue: true, isPastGrace: true });
    expect(round[2]).toMatchObject({ isOverdue: false, isPastGrace: false });
  });

  const fleets = fc.array(
    fc.record({
      unit: fc.uuid(),
      shedId: fc.constantFrom('river', 'hill'),
      dueOn: fc.option(fc.integer({ min: firstMonday - 109, max: firstMonday + 90 })),
      risk: fc.option(fc.double({ min: 0, max: 1, noNaN: true })),
    }),
    { maxLength: 120 },
  );

  it('reads every unit once, evenly, and within its grace wherever that is possible', () => {
    fc.assert(
      fc.property(fleets, (units) => {
        const round = readingsRound(units, rules);
        expect(round.map((entry) => entry.unit).sort()).toEqual(units.map((u) => u.unit).sort());
        for (const entry of round) {
          const endOfFirstWeek = firstMonday + 6;
          const couldKeep = entry.dueOn !== null && entry.dueOn + rules.graceDays >= endOfFirstWeek;
          expect(entry.isPastGrace).toBe(!couldKeep);
        }
      }),
      { numRuns: 300 },
    );
  });

  it('spreads a shed read in one day over the quarter', () => {
    const units = Array.from({ length: 130 }, (_, at) => unit(`${at}`, 10));
    const counts = new Map<number, number>();
    for (const entry of readingsRound(units, rules)) {
      counts.set(weekOf(entry), (counts.get(weekOf(entry)) ?? 0) + 1);
    }
    expect([...counts.values()]).toEqual(Array(13).fill(10));
  });

  it('has nothing to spread over no weeks', () => {
    expect(readingsRound([unit('a', 3)], { ...rules, weekCount: 0 })).toEqual([]);
  });
});
