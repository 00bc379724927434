import type { Metadata } from 'next';
import { requireSignIn } from '@/app/_session';
import { Shell } from '@/app/_shell';
import { Field } from '@/app/_ui/field';
import { Page } from '@/app/_ui/page';
import { Panel } from '@/app/_ui/panel';
import { database } from '@/db/handle';
import { retention } from '@/db/reads/retention';
import { requirePermission } from '@/lib/access';
import { ActForm } from '../../act-form';
import { Periods } from '../periods';
import { countDue, purge } from './actions';

export const metadata: Metadata = { title: 'Purge records' };

export default async function PurgePage() {
  const person = await requireSignIn('/limits/purge');
  requirePermission(person, 'purge records');
  const { policy } = await retention((await database()).db);
  return (
    <Shell person={person}>
      <Page
        title="Purge records"
        lede="Takes away for good what the periods in force no longer keep. It leaves one ledger entry with its counts, and the chain stays whole. Nobody can record anything while it works."
      >
        <div className="stack">
          <Panel title="Kept so long">
            <Periods policy={policy} />
          </Panel>
          <Panel title="1. See what is due">
            <ActForm action={countDue} hidden={{}} button="Count what is due">
              <p className="mute small">Counting takes nothing away.</p>
            </ActForm>
          </Panel>
          <Panel title="2. Take it away">
            <ActForm action={purge} hidden={{}} button="Purge for good">
              <p className="mute small">Make a backup first: nothing brings it back.</p>
              <Field
                id="units"
                name="units"
                label="Units concerned, as counted"
                inputMode="numeric"
                autoComplete="off"
                hint="Where the count has changed since, nothing is taken."
              />
              <Field
                id="password"
                name="password"
                type="password"
                label="Your password, again"
                autoComplete="current-password"
              />
            </ActForm>
          </Panel>
        </div>
      </Page>
    </Shell>
  );
}
