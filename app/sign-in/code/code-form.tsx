'use client';

import { type FormEvent, type ReactNode, startTransition, useActionState } from 'react';
import { Button } from '@/app/_ui/button';
import { ErrorSummary } from '@/app/_ui/error-summary';
import type { Problem } from '@/lib/result';
import styles from '../sign-in.module.css';

interface CodeFormProps {
  readonly action: (problems: readonly Problem[], data: FormData) => Promise<readonly Problem[]>;
  readonly button: string;
  readonly children: ReactNode;
}

/** Sent by hand, since a form's own action would empty the fields that are still to be mended. */
export function CodeForm({ action, button, children }: CodeFormProps) {
  const [problems, submit, isPending] = useActionState(action, []);
  const send = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    const data = new FormData(event.currentTarget);
    startTransition(() => submit(data));
  };
  return (
    <form action={submit} onSubmit={send} className={styles.form} noValidate>
      <ErrorSummary problems={problems} />
      {children}
      <Button type="submit" main disabled={isPending}>
        {button}
      </Button>
    </form>
  );
}
