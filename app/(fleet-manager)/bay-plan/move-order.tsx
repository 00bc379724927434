'use client';

import type { FormEvent } from 'react';
import { Button } from '@/app/_ui/button';
import { Field, SelectField } from '@/app/_ui/field';
import { moveInPlan } from './actions';
import styles from './bay-plan.module.css';
import { PlanMessages } from './plan-messages';
import { untouched } from './plan-state';
import { usePlanChange } from './use-plan-change';

interface MoveOrderProps {
  readonly orderId: string;
  readonly version: number;
  readonly week: string | null;
  readonly slots: readonly { readonly value: string; readonly text: string }[];
}

export function MoveOrder({ orderId, version, week, slots }: MoveOrderProps) {
  const { state, isBusy, change, undo } = usePlanChange();
  const isOverfull = state.problems.some(({ field }) => field === 'reason');
  const send = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    const data = new FormData(event.currentTarget);
    change(() => moveInPlan(untouched, data));
  };
  return (
    <form onSubmit={send} className={`${styles.move} no-print`} noValidate>
      <PlanMessages state={state} isBusy={isBusy} onUndo={undo} />
      <input type="hidden" name="orderId" value={orderId} />
      <input type="hidden" name="seenVersion" value={version} />
      <SelectField id="slot" name="slot" label="Move to">
        {week !== null && <option value="none">Out of the plan</option>}
        {slots.map(({ value, text }) => (
          <option key={value} value={value}>
            {text}
          </option>
        ))}
      </SelectField>
      {isOverfull && (
        <Field id="reason" name="reason" label="Why it goes there all the same" maxLength={200} />
      )}
      <Button type="submit" main disabled={isBusy}>
        Move
      </Button>
    </form>
  );
}
