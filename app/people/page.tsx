import type { Metadata } from 'next';
import { forbidden } from 'next/navigation';
import { requireSignIn } from '@/app/_session';
import { Shell } from '@/app/_shell';
import { Button, LinkButton } from '@/app/_ui/button';
import { ChoiceField, Field } from '@/app/_ui/field';
import { Page } from '@/app/_ui/page';
import { Panel } from '@/app/_ui/panel';
import { database } from '@/db/handle';
import { people } from '@/db/reads/people';
import { may } from '@/lib/access';
import { inviteAction } from './actions';
import styles from './people.module.css';
import { PeopleForm } from './people-form';
import { PeopleTable } from './people-table';
import { PlaceFields } from './place-fields';

export const metadata: Metadata = { title: 'People' };

export default async function PeoplePage() {
  const person = await requireSignIn('/people');
  if (!may(person, 'see people')) forbidden();
  const { db } = await database();
  const listed = await people(db, person, new Date());
  return (
    <Shell person={person}>
      <Page
        title="People"
        lede="Who may do what, and in which sheds. Every change is in the ledger; nobody changes themselves."
        actions={
          may(person, 'change people') && <LinkButton href="/small-shop">Small shop</LinkButton>
        }
      >
        <div className="stack">
          <Panel title="On record" flush>
            <PeopleTable {...listed} ownId={person.personId} />
          </Panel>
          <Panel title="Invite somebody">
            <div className={styles.form}>
              <PeopleForm action={inviteAction}>
                <Field id="name" name="name" label="Name" required />
                <Field id="email" name="email" type="email" label="E-mail address" required />
                <Field
                  id="badge"
                  name="badge"
                  label="Badge"
                  hint="Short; it stands beside what they sign."
                  required
                />
                <PlaceFields sheds={listed.sheds} />
                <ChoiceField
                  id="isOutsideCertifier"
                  name="isOutsideCertifier"
                  value="yes"
                  label="Certifies for an outside shop"
                  hint="For a shop of one: a technician from elsewhere signs for the repair, and another person releases."
                />
                <div>
                  <Button type="submit" main>
                    Invite and make a code
                  </Button>
                </div>
              </PeopleForm>
            </div>
          </Panel>
        </div>
      </Page>
    </Shell>
  );
}
