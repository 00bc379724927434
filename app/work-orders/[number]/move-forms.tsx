'use client';

import { useActionState } from 'react';
import { Button } from '@/app/_ui/button';
import { ErrorSummary } from '@/app/_ui/error-summary';
import { Field } from '@/app/_ui/field';
import type { Role } from '@/lib/access';
import type { WorkOrderMove, WorkOrderState } from '@/lib/work-orders/move-order';
import { moveOrderAction } from '../actions';
import styles from '../work-orders.module.css';

interface MoveFormsProps {
  readonly orderId: string;
  readonly version: number;
  readonly state: WorkOrderState;
  readonly role: Role;
}

const offered: Partial<Record<Role, Partial<Record<WorkOrderState, readonly WorkOrderMove[]>>>> = {
  technician: { raised: ['begin'], placed: ['begin'], begun: ['wait'], waiting: ['go on'] },
  'fleet manager': { raised: ['withdraw'], placed: ['take out of the plan', 'withdraw'] },
};

const words: Partial<Record<WorkOrderMove, string>> = {
  begin: 'Begin the work',
  wait: 'Let it wait',
  'go on': 'Go on with the work',
  'take out of the plan': 'Take out of the plan',
  withdraw: 'Withdraw the order',
};

/** The steps that this person may take next; what has a reason asks for it. */
export function MoveForms({ orderId, version, state, role }: MoveFormsProps) {
  const [outcome, action, isPending] = useActionState(moveOrderAction, { problems: [] });
  const moves = offered[role]?.[state] ?? [];
  if (moves.length === 0) return null;
  const needsReason = moves.some((move) => move === 'wait' || move === 'withdraw');
  return (
    <form action={action} className={`${styles.form} no-print`} noValidate>
      <ErrorSummary problems={outcome.problems} />
      <input type="hidden" name="orderId" value={orderId} />
      <input type="hidden" name="seenVersion" value={version} />
      {needsReason && (
        <Field
          id="reason"
          name="reason"
          label={moves.includes('wait') ? 'Waits for: part or reason' : 'Reason, to withdraw it'}
          maxLength={500}
        />
      )}
      {moves.includes('wait') && (
        <Field id="until" name="until" type="date" label="Expected on" hint="May be left empty." />
      )}
      <div className={styles.choices} id={needsReason ? undefined : 'reason'} tabIndex={-1}>
        {moves.map((move) => (
          <Button
            key={move}
            type="submit"
            name="move"
            value={move}
            main={move === 'begin'}
            disabled={isPending}
          >
            {words[move]}
          </Button>
        ))}
      </div>
    </form>
  );
}
