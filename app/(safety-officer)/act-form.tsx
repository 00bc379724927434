'use client';

import { type ReactNode, useEffect, useRef } from 'react';
import { Button } from '@/app/_ui/button';
import { ErrorSummary } from '@/app/_ui/error-summary';
import { StatusLine } from '@/app/_ui/status-line';
import { useSentForm } from '@/app/_ui/use-sent-form';
import type { FormState } from './form-state';

interface ActFormProps {
  readonly action: (state: FormState, data: FormData) => Promise<FormState>;
  /** What the form acts on, sent along unseen. */
  readonly hidden: Readonly<Record<string, string>>;
  /** Null where nothing is left to do: what was said of the last act stays. */
  readonly button: string | null;
  readonly isMain?: boolean;
  readonly isWide?: boolean;
  readonly children?: ReactNode;
}

const untouched: FormState = { problems: [], said: null };

/** One signature, one form: its fields, what is wrong with them, and one button. */
export function ActForm({ action, hidden, button, isMain, isWide, children }: ActFormProps) {
  const { state, isPending, form } = useSentForm(action, untouched);
  const told = useRef<HTMLParagraphElement>(null);
  // The button that was pressed rests, or is gone: who works by keys would be back at the top.
  useEffect(() => {
    if (state.said !== null && document.activeElement === document.body) told.current?.focus();
  }, [state]);
  return (
    <form {...form} className="stack no-print">
      <ErrorSummary problems={state.problems} />
      {Object.entries(hidden).map(([name, value]) => (
        <input key={name} type="hidden" name={name} value={value} />
      ))}
      {children}
      {button && (
        <div>
          <Button type="submit" main={isMain} wide={isWide} disabled={isPending}>
            {button}
          </Button>
        </div>
      )}
      <StatusLine ref={told}>{state.said}</StatusLine>
    </form>
  );
}
