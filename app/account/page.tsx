import type { Metadata } from 'next';
import { requireSignIn } from '@/app/_session';
import { Shell } from '@/app/_shell';
import { Button } from '@/app/_ui/button';
import { SelectField } from '@/app/_ui/field';
import { Page } from '@/app/_ui/page';
import { Panel } from '@/app/_ui/panel';
import { ActForm } from '@/app/(safety-officer)/act-form';
import { database } from '@/db/handle';
import { ownSessions } from '@/db/reads/own-sessions';
import { ownUnits } from '@/db/reads/own-units';
import { distanceUnits, pressureUnits } from '@/lib/measure';
import { chooseUnits, signOutEverywhere } from './actions';

export const metadata: Metadata = { title: 'Your account' };

const minute = (instant: Date) => `${instant.toISOString().slice(0, 16).replace('T', ' ')} UTC`;

export default async function AccountPage() {
  const person = await requireSignIn('/account');
  const { db } = await database();
  const own = await ownUnits(db, person);
  const sessions = await ownSessions(db, person, new Date());
  return (
    <Shell person={person}>
      <Page
        title="Your account"
        lede="Where you are signed in, and in what you read pressures and distances."
      >
        <div className="stack">
          <Panel title="Units of measure">
            <ActForm action={chooseUnits} hidden={{}} button="Keep these units">
              <p className="mute">
                Screens and papers show these. The bay card asks for what the face of the gauge
                shows, and keeps every figure as it was keyed.
              </p>
              <UnitField
                id="pressureUnit"
                label="Pressure"
                units={pressureUnits}
                chosen={own.pressureUnit}
              />
              <UnitField
                id="distanceUnit"
                label="Distance"
                units={distanceUnits}
                chosen={own.distanceUnit}
              />
            </ActForm>
          </Panel>
          <Panel title={`${sessions.length} ${sessions.length === 1 ? 'sign-in' : 'sign-ins'}`}>
            <p>
              A sign-in ends by itself twelve hours after its last use, seven days after it began.
            </p>
            <ul>
              {sessions.map(({ id, since, lastUsed, browser }) => (
                <li key={id}>
                  Since {minute(since)}, last used {minute(lastUsed)}
                  <br />
                  <span className="mute small">
                    {browser ?? 'A browser that does not say its name'}
                  </span>
                </li>
              ))}
            </ul>
            <p>
              Lost a tablet, or signed in on one that others use? End every sign-in, this one too.
              Readings that a device has not yet sent stay on it, signed by you.
            </p>
            <form action={signOutEverywhere}>
              <Button type="submit" main>
                Sign out everywhere
              </Button>
            </form>
          </Panel>
        </div>
      </Page>
    </Shell>
  );
}

interface UnitFieldProps {
  readonly id: string;
  readonly label: string;
  readonly units: readonly string[];
  readonly chosen: string | null;
}

function UnitField({ id, label, units, chosen }: UnitFieldProps) {
  return (
    <SelectField id={id} name={id} label={label} defaultValue={chosen ?? ''}>
      <option value="">as my shed</option>
      {units.map((unit) => (
        <option key={unit}>{unit}</option>
      ))}
    </SelectField>
  );
}
