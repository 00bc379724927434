import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type Mover,
  moveOrder,
  type OrderStanding,
  type WorkOrderMove,
  type WorkOrderState,
  workOrderMoves,
  workOrderStates,
} from '@/lib/work-orders/move-order';

const standing = (state: WorkOrderState, change: Partial<OrderStanding> = {}): OrderStanding => ({
  state,
  hasOpenSpell: false,
  areTasksSettled: true,
  needsProof: true,
  ...change,
});

/** The fleet's rule, row by row: from, to, who, with what. */
const rule: [
  WorkOrderState,
  WorkOrderMove,
  Mover,
  Partial<OrderStanding>,
  WorkOrderState | string,
][] = [
  ['raised', 'place', 'fleet manager', {}, 'placed'],
  ['placed', 'place', 'fleet manager', {}, 'placed'],
  ['placed', 'take out of the plan', 'fleet manager', {}, 'raised'],
  ['raised', 'place', 'technician', {}, 'not this role'],
  ['placed', 'begin', 'technician', {}, 'begun'],
  ['raised', 'begin', 'technician', {}, 'only with an open spell'],
  ['raised', 'begin', 'technician', { hasOpenSpell: true }, 'begun'],
  ['placed', 'begin', 'fleet manager', {}, 'not this role'],
  ['begun', 'wait', 'technician', {}, 'waiting'],
  ['waiting', 'go on', 'technician', {}, 'begun'],
  ['begun', 'finish', 'technician', {}, 'finished'],
  ['begun', 'finish', 'technician', { areTasksSettled: false }, 'tasks are open'],
  ['begun', 'finish', 'technician', { needsProof: false }, 'closed'],
  ['finished', 'prove', 'system', {}, 'closed'],
  ['finished', 'prove', 'safety officer', {}, 'not this role'],
  ['finished', 'fail the proof', 'system', {}, 'begun'],
  ['raised', 'withdraw', 'fleet manager', {}, 'withdrawn'],
  ['placed', 'withdraw', 'fleet manager', {}, 'withdrawn'],
  ['placed', 'withdraw', 'fleet manager', { hasOpenSpell: true }, 'the spell needs it'],
  ['begun', 'withdraw', 'fleet manager', {}, 'not from this state'],
];

describe('a work order', () => {
  it.each(rule)('%s, %s by %s %o: %s', (state, move, mover, change, outcome) => {
    const moved = moveOrder(standing(state, change), move, mover);
    expect(moved.ok ? moved.value : moved.error).toBe(outcome);
  });

  it('never leaves closed or withdrawn', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...workOrderMoves),
        fc.constantFrom<Mover>(
          'technician',
          'fleet manager',
          'safety officer',
          'auditor',
          'admin',
          'system',
        ),
        fc.constantFrom<WorkOrderState>('closed', 'withdrawn'),
        fc.boolean(),
        (move, mover, state, flag) =>
          !moveOrder(standing(state, { hasOpenSpell: flag, areTasksSettled: flag }), move, mover)
            .ok,
      ),
    );
  });

  it('reaches closed only through finishing', () => {
    for (const state of workOrderStates) {
      for (const move of workOrderMoves) {
        const moved = moveOrder(standing(state, { needsProof: false }), move, 'technician');
        if (moved.ok && moved.value === 'closed')
          expect([state, move]).toEqual(['begun', 'finish']);
      }
    }
  });
});
