'use client';

import { type FormEvent, type ReactNode, startTransition, useActionState } from 'react';
import { Button } from '@/app/_ui/button';
import { ErrorSummary } from '@/app/_ui/error-summary';
import { StatusLine } from '@/app/_ui/status-line';
import type { FormState } from './form-state';

interface ActFormProps {
  readonly action: (state: FormState, data: FormData) => Promise<FormState>;
  /** What the form acts on, sent along unseen. */
  readonly hidden: Readonly<Record<string, string>>;
  readonly button: string;
  readonly isMain?: boolean;
  readonly isWide?: boolean;
  readonly children?: ReactNode;
}

const untouched: FormState = { problems: [], said: null };

/** One signature, one form: its fields, what is wrong with them, and one button. */
export function ActForm({ action, hidden, button, isMain, isWide, children }: ActFormProps) {
  const [state, submit, isPending] = useActionState(action, untouched);
  // Sent by hand, since a form's own action empties the fields that the person must still mend.
  const send = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    const data = new FormData(event.currentTarget);
    startTransition(() => submit(data));
  };
  return (
    <form action={submit} onSubmit={send} className="stack no-print" noValidate>
      <ErrorSummary problems={state.problems} />
      {Object.entries(hidden).map(([name, value]) => (
        <input key={name} type="hidden" name={name} value={value} />
      ))}
      {children}
      <div>
        <Button type="submit" main={isMain} wide={isWide} disabled={isPending}>
          {button}
        </Button>
      </div>
      <StatusLine>{state.said}</StatusLine>
    </form>
  );
}
