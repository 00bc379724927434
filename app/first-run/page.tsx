import type { Metadata } from 'next';
import { redirect } from 'next/navigation';
import { connection } from 'next/server';
import { Field } from '@/app/_ui/field';
import { Page } from '@/app/_ui/page';
import { Panel } from '@/app/_ui/panel';
import { CodeField, NewPasswordField } from '@/app/sign-in/code/code-fields';
import { CodeForm } from '@/app/sign-in/code/code-form';
import { database } from '@/db/handle';
import { isFirstRun } from '@/db/reads/is-first-run';
import { beginAction } from './actions';

export const metadata: Metadata = { title: 'First run' };

export default async function FirstRunPage() {
  await connection();
  if (!(await isFirstRun((await database()).db))) redirect('/sign-in');
  return (
    <Page
      title="Begin with the first admin"
      lede="Nobody is on record yet. The admin made here invites everybody else, and reads no units."
    >
      <Panel>
        <CodeForm action={beginAction} button="Make the first admin">
          <CodeField hint="The server printed it when it started." />
          <Field id="name" name="name" label="Name" autoComplete="name" required />
          <Field
            id="email"
            name="email"
            type="email"
            label="E-mail address"
            autoComplete="username"
            required
          />
          <NewPasswordField />
        </CodeForm>
      </Panel>
    </Page>
  );
}
