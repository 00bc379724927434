'use client';

import type { ReactNode } from 'react';
import { ErrorSummary } from '@/app/_ui/error-summary';
import { StatusLine } from '@/app/_ui/status-line';
import { useSentForm } from '@/app/_ui/use-sent-form';
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
  const { state, isPending, form } = useSentForm(action, untouched);
  return (
    <form {...form}>
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
