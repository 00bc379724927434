import type { Metadata } from 'next';
import { forbidden } from 'next/navigation';
import { requireSignIn } from '@/app/_session';
import { Shell } from '@/app/_shell';
import { Link } from '@/app/_ui/link';
import { Page } from '@/app/_ui/page';
import { Panel } from '@/app/_ui/panel';
import { database } from '@/db/handle';
import { bulletinsInForce } from '@/db/reads/bulletins-in-force';
import { may } from '@/lib/access';
import { BulletinForm } from './bulletin-form';

export const metadata: Metadata = { title: 'Add a bulletin' };

export default async function NewBulletinPage() {
  const person = await requireSignIn('/effectivity/new');
  if (!may(person, 'edit bulletins')) forbidden();
  const { db } = await database();
  const inForce = await bulletinsInForce(db, person);
  return (
    <Shell person={person}>
      <Page
        above={<Link href="/effectivity">Effectivity</Link>}
        title="Add a bulletin"
        lede="In the fleet's own words. A condition left empty asks nothing. The counts are shown before it is entered; the notice itself is attached afterwards."
      >
        <Panel>
          <BulletinForm
            inForce={inForce.map(({ id, number, issue, title }) => ({
              id,
              name: `${number} issue ${issue}, ${title}`,
            }))}
            units={{ pressure: person.pressureUnit, distance: person.distanceUnit }}
          />
        </Panel>
      </Page>
    </Shell>
  );
}
