import type { Metadata } from 'next';
import { requireSignIn } from '@/app/_session';
import { Shell } from '@/app/_shell';
import { TextAreaField } from '@/app/_ui/field';
import { Page } from '@/app/_ui/page';
import { Panel } from '@/app/_ui/panel';
import { database } from '@/db/handle';
import { smallShop } from '@/db/reads/small-shop';
import { requirePermission } from '@/lib/access';
import { ActForm } from '../act-form';
import { propose } from './actions';

export const metadata: Metadata = { title: 'Small shop' };

export default async function SmallShopPage() {
  const person = await requireSignIn('/small-shop');
  requirePermission(person, 'change people');
  const { isOn, proposed } = await smallShop((await database()).db);
  return (
    <Shell person={person}>
      <Page
        title="Small shop"
        lede="A unit goes back by three people: who certifies, who reads the proof, who releases. In a small shop the releaser may read the proof. Who certified the repair never releases."
      >
        <Panel title={isOn ? 'In force: the small-shop rule' : 'In force: three people'}>
          <div className="stack">
            {proposed && (
              <p>
                Proposed and not decided: {proposed.isOn ? 'the small-shop rule' : 'three people'}.
                Why: {proposed.why}
              </p>
            )}
            <ActForm
              action={propose}
              hidden={{ isOn: isOn ? 'no' : 'yes' }}
              button={isOn ? 'Propose three people again' : 'Propose the small-shop rule'}
            >
              <TextAreaField id="why" name="why" label="Why" rows={2} />
            </ActForm>
          </div>
        </Panel>
      </Page>
    </Shell>
  );
}
