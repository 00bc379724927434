import type { Role } from '@/lib/access';
import { failure, type Result, success } from '@/lib/result';

export const workOrderStates = [
  'raised',
  'placed',
  'begun',
  'waiting',
  'finished',
  'closed',
  'withdrawn',
] as const;
export type WorkOrderState = (typeof workOrderStates)[number];

/** An order in one of these still serves its unit. */
export const openStates = [
  'raised',
  'placed',
  'begun',
  'waiting',
] as const satisfies readonly WorkOrderState[];

export const workOrderMoves = [
  'place',
  'take out of the plan',
  'begin',
  'wait',
  'go on',
  'finish',
  'prove',
  'fail the proof',
  'withdraw',
] as const;
export type WorkOrderMove = (typeof workOrderMoves)[number];

/** What a move depends on beside the state. */
export interface OrderStanding {
  readonly state: WorkOrderState;
  readonly hasOpenSpell: boolean;
  /** Every task is done or struck with a reason. */
  readonly areTasksSettled: boolean;
  /** A task on the source of vacuum, its line or the belt: it is proved by a reading. */
  readonly needsProof: boolean;
}

export type MoveRefusal =
  | 'not from this state'
  | 'not this role'
  | 'only with an open spell'
  | 'tasks are open'
  | 'the spell needs it';

/** The system itself proves or fails: no person closes an order by hand. */
export type Mover = Role | 'system';

interface Way {
  readonly from: readonly WorkOrderState[];
  readonly to: WorkOrderState;
  readonly who: readonly Mover[];
}

const ways: Record<WorkOrderMove, Way> = {
  place: { from: ['raised', 'placed'], to: 'placed', who: ['fleet manager'] },
  'take out of the plan': { from: ['placed'], to: 'raised', who: ['fleet manager'] },
  begin: { from: ['raised', 'placed'], to: 'begun', who: ['technician'] },
  wait: { from: ['begun'], to: 'waiting', who: ['technician'] },
  'go on': { from: ['waiting'], to: 'begun', who: ['technician'] },
  finish: { from: ['begun'], to: 'finished', who: ['technician'] },
  prove: { from: ['finished'], to: 'closed', who: ['system'] },
  'fail the proof': { from: ['finished'], to: 'begun', who: ['system'] },
  withdraw: { from: ['raised', 'placed'], to: 'withdrawn', who: ['fleet manager'] },
};

/**
 * The state that a move leads to, or why it may not be made. Closed and withdrawn are final. An order
 * whose tasks ask for no proof is closed by finishing it.
 *
 * @example moveOrder({ state: 'closed', ... }, 'begin', 'technician') fails with 'not from this state'
 */
export function moveOrder(
  standing: OrderStanding,
  move: WorkOrderMove,
  mover: Mover,
): Result<WorkOrderState, MoveRefusal> {
  const { from, to, who } = ways[move];
  if (!from.includes(standing.state)) return failure('not from this state');
  if (!who.includes(mover)) return failure('not this role');
  if (move === 'begin' && standing.state === 'raised' && !standing.hasOpenSpell) {
    return failure('only with an open spell');
  }
  if (move === 'finish' && !standing.areTasksSettled) return failure('tasks are open');
  if (move === 'withdraw' && standing.hasOpenSpell) return failure('the spell needs it');
  return success(move === 'finish' && !standing.needsProof ? 'closed' : to);
}
