'use client';

import { type FormEvent, type ReactNode, startTransition, useActionState } from 'react';
import { ErrorSummary } from '@/app/_ui/error-summary';
import { StatusLine } from '@/app/_ui/status-line';
import type { PeopleFormState } from './form-state';
import styles from './people.module.css';

interface PeopleFormProps {
  readonly action: (state: PeopleFormState, data: FormData) => Promise<PeopleFormState>;
  readonly personId?: string;
  readonly children: ReactNode;
}

const untouched: PeopleFormState = { problems: [], said: null, code: null };

/** A form that keeps what was keyed, says what came of it, and shows a code once. */
export function PeopleForm({ action, personId, children }: PeopleFormProps) {
  const [state, submit, isPending] = useActionState(action, untouched);
  const send = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    const { submitter } = event.nativeEvent as SubmitEvent;
    const data = new FormData(event.currentTarget, submitter);
    startTransition(() => submit(data));
  };
  return (
    <form action={submit} onSubmit={send} noValidate>
      <fieldset disabled={isPending} className="stack">
        <ErrorSummary problems={state.problems} />
        {personId && <input type="hidden" name="personId" value={personId} />}
        {children}
        <StatusLine>
          {state.said}
          {state.code && <span className={styles.code}>{state.code}</span>}
        </StatusLine>
      </fieldset>
    </form>
  );
}
