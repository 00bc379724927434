'use client';

import { Button } from '@/app/_ui/button';
import { ErrorSummary } from '@/app/_ui/error-summary';
import type { PlanState } from './plan-state';

interface PlanMessagesProps {
  readonly state: PlanState;
  readonly isBusy: boolean;
  readonly onUndo: () => void;
}

/** What a change of the plan came to, and the way back. */
export function PlanMessages({ state, isBusy, onUndo }: PlanMessagesProps) {
  return (
    <>
      <ErrorSummary problems={state.problems} />
      <div role="status">
        {state.said.map((line) => (
          <p key={line}>{line}</p>
        ))}
      </div>
      {state.undo.length > 0 && (
        <Button onClick={onUndo} disabled={isBusy}>
          Undo
        </Button>
      )}
    </>
  );
}
