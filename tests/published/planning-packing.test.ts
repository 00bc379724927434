import { describe, expect, it } from 'vitest';
import { dayFromIso, isoWeekOf } from '@/lib/calendar';
import { checkPlan } from '@/lib/planning/check-plan';
import type { PlanInput } from '@/lib/planning/plan';
import { proposePlan } from '@/lib/planning/propose-plan';
import falkenauer from './figures/falkenauer_u120_00.json';

const firstMonday = dayFromIso('2026-01-05')!;

/** Items as jobs of units of their own, bins as weeks of one shed; what an item is worth is lost outside. */
function packing(
  bins: readonly number[],
  items: readonly { readonly size: number; readonly worth: number }[],
): PlanInput {
  const largest = Math.max(...bins);
  return {
    firstMonday,
    weekCount: bins.length,
    setUpHours: 0,
    costs: { visit: 0, crossing: 1000, overdueDay: 0, notPlaced: 0 },
    sheds: [
      {
        id: 'bin',
        name: 'Bin',
        hoursPerWeek: largest,
        closures: bins.map((size, week) => ({
          week: isoWeekOf(firstMonday + 7 * week),
          hoursLost: largest - size,
        })),
      },
    ],
    jobs: items.map(({ size, worth }, item) => ({
      id: `item-${item}`,
      unit: `unit-${item}`,
      kind: 'pump',
      hours: size,
      shedId: 'bin',
      crossing: [...bins.map(() => 0), worth / 1000],
      wantedBy: null,
      readyOn: null,
      blackoutWeeks: [],
      pinned: null,
    })),
  };
}

describe('published packing problems, written as plans', () => {
  // 120 items fill 48 bins of 150 to 98.3%; first fit decreasing needs 49.
  it(`packs Falkenauer's u120_00 into the ${falkenauer.bins} bins known to be the fewest`, () => {
    const items = falkenauer.items.map((size) => ({ size, worth: size }));
    const bins = Array.from({ length: falkenauer.bins }, () => falkenauer.capacity);
    const input = packing(bins, items);
    const proposal = proposePlan(input, { moves: 4_000_000 });
    expect(proposal.notPlaced).toEqual([]);
    expect(checkPlan(input, proposal.placement).breaches).toEqual([]);
  });

  // Martello and Toth, Knapsack Problems (1990), multiple knapsacks, their test problem for MTM:
  // capacities 70 and 127, best profit 333; total profit of the ten objects 679.
  it('finds the best profit of the worked multiple knapsack', () => {
    const profits = [92, 57, 49, 68, 60, 43, 67, 84, 87, 72];
    const masses = [23, 31, 29, 44, 53, 38, 63, 85, 89, 82];
    const input = packing(
      [70, 127],
      masses.map((size, item) => ({ size, worth: profits[item]! })),
    );
    const proposal = proposePlan(input, { moves: 200_000 });
    expect(679 - proposal.cost).toBeCloseTo(333, 9);
    expect(proposal.bound).toBeLessThanOrEqual(679 - 333 + 1e-9);
  });
});
