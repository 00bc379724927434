import type { OrderRefusal } from '@/db/record/change-order';
import type { WorkOrderState } from '@/lib/work-orders/move-order';

export const orderStateWords: Record<WorkOrderState, string> = {
  raised: 'Raised',
  placed: 'Placed',
  begun: 'Begun',
  waiting: 'Waiting',
  finished: 'Finished',
  closed: 'Closed',
  withdrawn: 'Withdrawn',
};

export const refusalWords: Record<
  OrderRefusal,
  { readonly message: string; readonly mend: string }
> = {
  'not from this state': {
    message: 'The order is in another state.',
    mend: 'Load the page again to see it.',
  },
  'not this role': { message: 'Your role does not take this step.', mend: 'Ask who may.' },
  'only with an open spell': {
    message: 'An order that is not placed is begun only for a unit out of service.',
    mend: 'Ask the fleet manager to place it.',
  },
  'tasks are open': {
    message: 'A task is neither done nor struck.',
    mend: 'Tick each task done, or strike it with the reason.',
  },
  'the spell needs it': {
    message: 'The unit is out of service and waits for this work.',
    mend: 'Release the unit first, or keep the order.',
  },
  'no such order': { message: 'No such order is on record.', mend: 'Go back to the list.' },
  'changed meanwhile': {
    message: 'Somebody changed the order since this page was shown. Nothing was overwritten.',
    mend: 'Load the page again, look, and repeat what is still right.',
  },
};
