'use client';

import { useState, useTransition } from 'react';
import { undoInPlan } from './actions';
import { type PlanState, untouched } from './plan-state';

/** The last change of the plan from this page, and its undoing. */
export function usePlanChange() {
  const [state, setState] = useState<PlanState>(untouched);
  const [isBusy, start] = useTransition();
  const change = (act: () => Promise<PlanState>) =>
    start(async () => {
      setState(await act());
    });
  return { state, isBusy, change, undo: () => change(() => undoInPlan(state.undo)) };
}
