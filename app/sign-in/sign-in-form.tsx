'use client';

import { useActionState } from 'react';
import { Button } from '@/app/_ui/button';
import { ErrorSummary } from '@/app/_ui/error-summary';
import { Field } from '@/app/_ui/field';
import { signIn } from './actions';
import styles from './sign-in.module.css';

export function SignInForm({ to }: { readonly to: string }) {
  const [state, action, isPending] = useActionState(signIn, { problems: [], email: '' });
  return (
    <form action={action} className={styles.form} noValidate>
      <ErrorSummary problems={state.problems} />
      <input type="hidden" name="to" value={to} />
      <Field
        id="email"
        name="email"
        type="email"
        label="E-mail address"
        autoComplete="username"
        defaultValue={state.email}
        required
      />
      <Field
        id="password"
        name="password"
        type="password"
        label="Password"
        autoComplete="current-password"
        required
      />
      <Button type="submit" main disabled={isPending}>
        {isPending ? 'Signing in' : 'Sign in'}
      </Button>
    </form>
  );
}
