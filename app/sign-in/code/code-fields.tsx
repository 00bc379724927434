import { Field } from '@/app/_ui/field';
import { longestPassword, shortestPassword } from '@/lib/people/person-details';

export function CodeField({ hint }: { readonly hint: string }) {
  return (
    <Field
      id="code"
      name="code"
      label="One-time code"
      hint={hint}
      autoCapitalize="characters"
      spellCheck={false}
      required
    />
  );
}

export function NewPasswordField() {
  return (
    <Field
      id="password"
      name="password"
      type="password"
      label="New password"
      hint={`At least ${shortestPassword} characters; a few words are good.`}
      autoComplete="new-password"
      maxLength={longestPassword}
      required
    />
  );
}
