'use client';

import { useActionState } from 'react';
import { Button } from '@/app/_ui/button';
import { ErrorSummary } from '@/app/_ui/error-summary';
import { ChoiceField, Field } from '@/app/_ui/field';
import { raiseOrderAction } from '../actions';
import styles from '../work-orders.module.css';

interface RaiseOrderFormProps {
  readonly unitId: string;
  readonly templates: readonly {
    readonly kind: string;
    readonly title: string;
    readonly hours: number;
    readonly partNumbers: readonly string[];
  }[];
}

export function RaiseOrderForm({ unitId, templates }: RaiseOrderFormProps) {
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
        {templates.map(({ kind, title, hours, partNumbers }) => (
          <ChoiceField
            key={kind}
            id={`task-${kind.replaceAll(' ', '-')}`}
            name="kinds"
            value={kind}
            label={title}
            hint={[`${hours} h`, ...partNumbers].join(', ')}
          />
        ))}
      </fieldset>
      <Button type="submit" main disabled={isPending}>
        Raise the order
      </Button>
    </form>
  );
}
