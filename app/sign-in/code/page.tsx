import type { Metadata } from 'next';
import { environment } from '@/app/_environment';
import { DemoBanner } from '@/app/_ui/banner';
import { Field } from '@/app/_ui/field';
import { Link } from '@/app/_ui/link';
import { Page } from '@/app/_ui/page';
import { Panel } from '@/app/_ui/panel';
import { acceptCodeAction } from './actions';
import { CodeField, NewPasswordField } from './code-fields';
import { CodeForm } from './code-form';

export const metadata: Metadata = { title: 'Set a password' };

interface CodePageProps {
  readonly searchParams: Promise<{ readonly mailed?: string | string[] }>;
}

export default async function CodePage({ searchParams }: CodePageProps) {
  const { mailed } = await searchParams;
  return (
    <>
      {environment().isDemo && <DemoBanner />}
      <Page
        above={<Link href="/sign-in">Sign in</Link>}
        title="Set a password with a code"
        lede="The first time, or when the old one is lost. The admin gives you the code."
      >
        <Panel>
          {mailed && (
            <p role="status">
              If that address is on record, a code is on its way to it. It works for an hour.
            </p>
          )}
          <CodeForm action={acceptCodeAction} button="Set the password and sign in">
            <Field
              id="email"
              name="email"
              type="email"
              label="E-mail address"
              autoComplete="username"
              required
            />
            <CodeField hint="Four groups of five; it works once." />
            <NewPasswordField />
          </CodeForm>
        </Panel>
      </Page>
    </>
  );
}
