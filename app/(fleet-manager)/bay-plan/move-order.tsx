'use client';

import { useActionState } from 'react';
import { Button } from '@/app/_ui/button';
import { ErrorSummary } from '@/app/_ui/error-summary';
import { SelectField } from '@/app/_ui/field';
import { moveInPlan } from './actions';
import styles from './bay-plan.module.css';

interface MoveOrderProps {
  readonly orderId: string;
  readonly version: number;
  readonly week: string | null;
  readonly slots: readonly { readonly value: string; readonly text: string }[];
}

export function MoveOrder({ orderId, version, week, slots }: MoveOrderProps) {
  const [state, action, isPending] = useActionState(moveInPlan, { problems: [], said: [] });
  return (
    <form action={action} className={`${styles.move} no-print`}>
      <ErrorSummary problems={state.problems} />
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
      <Button type="submit" main disabled={isPending}>
        Move
      </Button>
    </form>
  );
}
