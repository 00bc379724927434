'use client';

import { useActionState } from 'react';
import { Button } from '@/app/_ui/button';
import { ErrorSummary } from '@/app/_ui/error-summary';
import { proposeForAll } from './actions';
import styles from './bay-plan.module.css';

export function ProposeButton() {
  const [state, action, isPending] = useActionState(proposeForAll, { problems: [], said: [] });
  return (
    <form action={action} className={`${styles.propose} no-print`}>
      <ErrorSummary problems={state.problems} />
      <Button type="submit" main disabled={isPending}>
        {isPending ? 'Working it out' : 'Propose for all not pinned'}
      </Button>
      <div role="status">
        {state.said.map((line) => (
          <p key={line}>{line}</p>
        ))}
      </div>
    </form>
  );
}
