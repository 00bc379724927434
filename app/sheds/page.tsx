import type { Metadata } from 'next';
import { forbidden } from 'next/navigation';
import { requireSignIn } from '@/app/_session';
import { Shell } from '@/app/_shell';
import { EmptyState } from '@/app/_ui/empty-state';
import { Page } from '@/app/_ui/page';
import { Panel } from '@/app/_ui/panel';
import { ActForm } from '@/app/(safety-officer)/act-form';
import { database } from '@/db/handle';
import { sheds } from '@/db/reads/sheds';
import { may } from '@/lib/access';
import { addShed } from './actions';
import { GaugesPanel } from './gauges-panel';
import { ShedFields } from './shed-fields';
import styles from './sheds.module.css';
import { ShedsTable } from './sheds-table';

export const metadata: Metadata = { title: 'Sheds' };

export default async function ShedsPage() {
  const person = await requireSignIn('/sheds');
  if (!may(person, 'change sheds')) forbidden();
  const { db } = await database();
  const listed = await sheds(db, person);
  return (
    <Shell person={person}>
      <Page
        title="Sheds"
        lede="Where units are kept and read. A fleet begins here: sheds, then people, then units by import."
      >
        <div className="stack">
          <Panel title="On record" flush={listed.length > 0}>
            {listed.length === 0 ? (
              <EmptyState>No shed is on record yet.</EmptyState>
            ) : (
              <ShedsTable sheds={listed} />
            )}
          </Panel>
          <Panel title="Add a shed">
            <div className={styles.form}>
              <ActForm action={addShed} hidden={{}} button="Add the shed" isMain>
                <ShedFields />
              </ActForm>
            </div>
          </Panel>
          <GaugesPanel sheds={listed} />
        </div>
        <datalist id="time-zones">
          {Intl.supportedValuesOf('timeZone').map((zone) => (
            <option key={zone} value={zone} />
          ))}
        </datalist>
      </Page>
    </Shell>
  );
}
