'use client';

import { type FormEvent, startTransition, useActionState } from 'react';

type Action<State> = (state: State, data: FormData) => Promise<State>;

/**
 * A form sent by hand, since its own action empties the fields that are still to be mended; without
 * scripts the action serves.
 */
export function useSentForm<State>(action: Action<Awaited<State>>, untouched: Awaited<State>) {
  const [state, submit, isPending] = useActionState<State, FormData>(action, untouched);
  const onSubmit = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    const { submitter } = event.nativeEvent as SubmitEvent;
    const data = new FormData(event.currentTarget, submitter);
    startTransition(() => submit(data));
  };
  return { state, isPending, form: { action: submit, onSubmit, noValidate: true } };
}
