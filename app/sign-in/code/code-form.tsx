'use client';

import type { ReactNode } from 'react';
import { Button } from '@/app/_ui/button';
import { ErrorSummary } from '@/app/_ui/error-summary';
import { useSentForm } from '@/app/_ui/use-sent-form';
import type { Problem } from '@/lib/result';
import styles from '../sign-in.module.css';

interface CodeFormProps {
  readonly action: (problems: readonly Problem[], data: FormData) => Promise<readonly Problem[]>;
  readonly button: string;
  readonly children: ReactNode;
}

/** The fields that a code asks for, what is wrong with them, and one button. */
export function CodeForm({ action, button, children }: CodeFormProps) {
  const { state: problems, isPending, form } = useSentForm<readonly Problem[]>(action, []);
  return (
    <form {...form} className={styles.form}>
      <ErrorSummary problems={problems} />
      {children}
      <Button type="submit" main disabled={isPending}>
        {button}
      </Button>
    </form>
  );
}
