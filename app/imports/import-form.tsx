'use client';

import type { ReactNode } from 'react';
import { ErrorSummary } from '@/app/_ui/error-summary';
import { StatusLine } from '@/app/_ui/status-line';
import { useSentForm } from '@/app/_ui/use-sent-form';
import { type ImportFormState, untouched } from './form-state';

interface ImportFormProps {
  readonly action: (state: ImportFormState, data: FormData) => Promise<ImportFormState>;
  readonly importId: string;
  readonly children: ReactNode;
}

/** A form about one import that keeps what was chosen and says what is wrong with it. */
export function ImportForm({ action, importId, children }: ImportFormProps) {
  const { state, isPending, form } = useSentForm(action, untouched);
  return (
    <form {...form}>
      <fieldset disabled={isPending} className="stack">
        <ErrorSummary problems={state.problems} />
        <input type="hidden" name="importId" value={importId} />
        {children}
        <StatusLine>{isPending ? 'Under way…' : null}</StatusLine>
      </fieldset>
    </form>
  );
}
