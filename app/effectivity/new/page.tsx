import type { Metadata } from 'next';
import Link from 'next/link';
import { requireSignIn } from '@/app/_session';
import { Shell } from '@/app/_shell';
import { Page } from '@/app/_ui/page';
import { Panel } from '@/app/_ui/panel';
import { BulletinForm } from './bulletin-form';

export const metadata: Metadata = { title: 'Add a bulletin' };

export default async function NewBulletinPage() {
  const person = await requireSignIn('/effectivity/new');
  return (
    <Shell person={person}>
      <Page
        above={<Link href="/effectivity">Effectivity</Link>}
        title="Add a bulletin"
        lede="In the fleet's own words. A condition left empty asks nothing. The counts are shown before it is entered."
      >
        <Panel>
          <BulletinForm />
        </Panel>
      </Page>
    </Shell>
  );
}
