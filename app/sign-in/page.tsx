import type { Metadata } from 'next';
import { redirect } from 'next/navigation';
import { environment } from '@/app/_environment';
import { signedIn } from '@/app/_session';
import { DemoBanner } from '@/app/_ui/banner';
import { Link } from '@/app/_ui/link';
import { Page } from '@/app/_ui/page';
import { Panel } from '@/app/_ui/panel';
import { database } from '@/db/handle';
import { isFirstRun } from '@/db/reads/is-first-run';
import { SignInForm } from './sign-in-form';

export const metadata: Metadata = { title: 'Sign in' };

interface SignInPageProps {
  readonly searchParams: Promise<{ readonly to?: string | string[] }>;
}

export default async function SignInPage({ searchParams }: SignInPageProps) {
  const { to } = await searchParams;
  if (await signedIn()) redirect('/');
  const isFirst = await isFirstRun((await database()).db);
  return (
    <>
      {environment().isDemo && <DemoBanner />}
      <Page
        title="Idlemark"
        lede="Brake-vacuum readings of the fleet: what holds, what drifts, what must not be driven."
      >
        <Panel title="Sign in">
          <SignInForm to={typeof to === 'string' ? to : '/'} />
          <p>
            {isFirst ? (
              <Link href="/first-run">Nobody is on record yet: make the first admin</Link>
            ) : (
              <Link href="/sign-in/code">Set a password with a code</Link>
            )}
          </p>
          <p>
            {!isFirst && environment().mail && (
              <Link href="/sign-in/forgot">Password lost? Have a code mailed</Link>
            )}
          </p>
        </Panel>
      </Page>
    </>
  );
}
