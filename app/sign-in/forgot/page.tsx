import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { connection } from 'next/server';
import { environment } from '@/app/_environment';
import { DemoBanner } from '@/app/_ui/banner';
import { Field } from '@/app/_ui/field';
import { Link } from '@/app/_ui/link';
import { Page } from '@/app/_ui/page';
import { Panel } from '@/app/_ui/panel';
import { CodeForm } from '../code/code-form';
import { askCodeAction } from './actions';

export const metadata: Metadata = { title: 'Have a code mailed' };

export default async function ForgotPage() {
  await connection();
  const { mail, isDemo } = environment();
  if (!mail) notFound();
  return (
    <>
      {isDemo && <DemoBanner />}
      <Page
        above={<Link href="/sign-in">Sign in</Link>}
        title="Have a code mailed"
        lede="For a lost password. The code works once, within an hour; until then the old one stays."
      >
        <Panel>
          <CodeForm action={askCodeAction} button="Send a code">
            <Field
              id="email"
              name="email"
              type="email"
              label="E-mail address"
              autoComplete="username"
              required
            />
          </CodeForm>
        </Panel>
      </Page>
    </>
  );
}
