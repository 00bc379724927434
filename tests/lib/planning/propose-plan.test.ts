import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isoWeekOf } from '@/lib/calendar';
import { checkPlan } from '@/lib/planning/check-plan';
import { explainNotPlaced } from '@/lib/planning/explain-not-placed';
import type { PlanInput } from '@/lib/planning/plan';
import { costOfPlan } from '@/lib/planning/plan-board';
import { planGrid } from '@/lib/planning/plan-grid';
import { proposePlan } from '@/lib/planning/propose-plan';
import { planCase } from '@/tests/support/plan-case';

const few = { moves: 20_000 };

/** Invented work with pins, some of them on top of one another, and units other sheds could take. */
const inputs = fc
  .record({
    seed: fc.integer({ min: 1, max: 1_000_000 }),
    jobs: fc.integer({ min: 0, max: 60 }),
    weeks: fc.integer({ min: 1, max: 8 }),
    sheds: fc.integer({ min: 1, max: 3 }),
    tightness: fc.double({ min: 0, max: 1.5, noNaN: true }),
    pinEvery: fc.integer({ min: 2, max: 20 }),
    shareSheds: fc.boolean(),
  })
  .map(({ pinEvery, shareSheds, ...plan }): PlanInput => {
    const input = planCase(plan);
    const jobs = input.jobs.map((job, at) => {
      const week = isoWeekOf(input.firstMonday + 7 * (at % 2));
      return {
        ...job,
        pinned: at % pinEvery === 0 ? { shedId: job.shedId, week } : null,
        otherSheds: shareSheds ? [{ shedId: 'shed-0', cost: 1.5 }] : [],
      };
    });
    return { ...input, jobs };
  });

describe('proposePlan', () => {
  it('places every job once, keeps pins, never overfills a week', () => {
    fc.assert(
      fc.property(inputs, (input) => {
        const { placement, loads } = proposePlan(input, few);
        expect(checkPlan(input, placement).breaches).toEqual([]);
        expect([...placement.keys()].sort()).toEqual(input.jobs.map(({ id }) => id).sort());
        for (const load of loads) {
          if (load.isOverfull) expect(load.placedHours).toBeCloseTo(load.pinnedHours, 9);
        }
      }),
      { numRuns: 150 },
    );
  });

  it('costs what the placement costs, between its bound and earliest due first', () => {
    fc.assert(
      fc.property(inputs, (input) => {
        const proposal = proposePlan(input, few);
        const grid = planGrid(input);
        const slotOf = Int32Array.from(input.jobs, ({ id }) => {
          const slot = proposal.placement.get(id);
          return slot
            ? grid.slots.findIndex((s) => s.shedId === slot.shedId && s.week === slot.week)
            : grid.outside;
        });
        expect(proposal.cost).toBeCloseTo(costOfPlan(grid, slotOf), 6);
        expect(proposal.cost).toBeLessThanOrEqual(proposal.earliestDueFirstCost + 1e-9);
        expect(proposal.bound).toBeLessThanOrEqual(proposal.cost);
      }),
      { numRuns: 60 },
    );
  });

  it('gives the same proposal for the same input and seed', () => {
    const input = planCase({ seed: 3, jobs: 80, weeks: 8, sheds: 2, tightness: 0.8 });
    expect(proposePlan(input, { ...few, seed: 9 })).toEqual(
      proposePlan(input, { ...few, seed: 9 }),
    );
  });

  it('says of every job left out what keeps it out', () => {
    const input = planCase({ seed: 4, jobs: 80, weeks: 6, sheds: 2, tightness: 0.5 });
    const { placement, notPlaced } = proposePlan(input, few);
    const leftOut = input.jobs.filter(({ id }) => placement.get(id) === null);
    expect(leftOut.length).toBeGreaterThan(10);
    expect(notPlaced.map(({ jobId }) => jobId)).toEqual(leftOut.map(({ id }) => id));
    expect(notPlaced).toEqual(explainNotPlaced(input, placement));
    for (const { freedBy } of notPlaced) expect(freedBy.length).toBeGreaterThan(0);
  });

  it('stays within 6% of its own bound on 500 jobs over 26 weeks', () => {
    const input = planCase({ seed: 8, jobs: 500, weeks: 26, sheds: 3, tightness: 0.9 });
    const { gap } = proposePlan(input, { moves: 3_000_000 });
    expect(gap).toBeLessThan(0.06);
  });

  it('has an answer where there is nothing to plan, or nowhere', () => {
    const input = planCase({ seed: 1, jobs: 3, weeks: 2, sheds: 1, tightness: 1 });
    expect(proposePlan({ ...input, jobs: [] }, few)).toMatchObject({
      visits: [],
      cost: 0,
      gap: null,
    });
    const nowhere = proposePlan({ ...input, sheds: [] }, few);
    expect(nowhere.notPlaced.map(({ why }) => why)).toEqual(Array(3).fill('shed not in the plan'));
    expect(proposePlan({ ...input, weekCount: 0 }, few).visits).toEqual([]);
  });
});
