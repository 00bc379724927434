'use client';

import { useActionState } from 'react';
import { Button } from '@/app/_ui/button';
import { ErrorSummary } from '@/app/_ui/error-summary';
import { ChoiceField, Field } from '@/app/_ui/field';
import { raiseOrderAction } from '../actions';
import styles from '../work-orders.module.css';

const tasks = [
  ['pump', 'Replace the vacuum pump'],
  ['belt', 'Replace the pump belt'],
  ['booster and line', 'Replace booster and vacuum line'],
  ['line', 'Replace the vacuum line'],
  ['check valve', 'Replace check valve and grommet'],
  ['leak search', 'Find the leak on the booster side'],
  ['reading', 'Quarterly reading'],
  ['proof', 'Proof reading'],
] as const;

export function RaiseOrderForm({ unitId }: { readonly unitId: string }) {
  const [state, action, isPending] = useActionState(raiseOrderAction, { problems: [] });
  const errorOf = (field: string) => state.problems.find((one) => one.field === field)?.message;
  return (
    <form action={action} className={styles.form} noValidate>
      <ErrorSummary problems={state.problems} />
      <Field
        id="unitId"
        name="unitId"
        label="Unit"
        defaultValue={unitId}
        error={errorOf('unitId')}
      />
      <Field id="why" name="why" label="Why" maxLength={300} error={errorOf('why')} />
      <fieldset>
        <legend>Tasks</legend>
        {tasks.map(([kind, title]) => (
          <ChoiceField
            key={kind}
            id={`task-${kind.replaceAll(' ', '-')}`}
            name="kinds"
            value={kind}
            label={title}
          />
        ))}
      </fieldset>
      <Button type="submit" main disabled={isPending}>
        Raise the order
      </Button>
    </form>
  );
}
