import type { OrderPlacement } from '@/db/writes/place-orders';
import type { Problem } from '@/lib/result';

/** What a change of the plan answers. */
export interface PlanState {
  readonly problems: readonly Problem[];
  readonly said: readonly string[];
  /** What puts it back; empty where nothing was changed. */
  readonly undo: readonly OrderPlacement[];
}

export const untouched: PlanState = { problems: [], said: [], undo: [] };

export const planProblem = (field: string, message: string, mend: string): PlanState => ({
  problems: [{ field, message, mend }],
  said: [],
  undo: [],
});
