import type { Metadata } from 'next';
import { requireSignIn } from '@/app/_session';
import { Shell } from '@/app/_shell';
import { Field, SelectField, TextAreaField } from '@/app/_ui/field';
import { Link } from '@/app/_ui/link';
import { Page } from '@/app/_ui/page';
import { Panel } from '@/app/_ui/panel';
import { SignalWord } from '@/app/_ui/signal-word';
import { requirePermission } from '@/lib/access';
import { handCauses } from '@/lib/stand-down/hand-causes';
import { ActForm } from '../../act-form';
import { standUnitDown } from '../actions';
import styles from '../board.module.css';

export const metadata: Metadata = { title: 'Stand a unit down' };

export default async function StandDownByHand({ searchParams }: PageProps<'/stand-down/new'>) {
  const { unit } = await searchParams;
  const person = await requireSignIn('/stand-down/new');
  requirePermission(person, 'stand a unit down');
  return (
    <Shell person={person}>
      <Page title="Stand a unit down" above={<Link href="/stand-down">Stand-down</Link>}>
        <Panel>
          <div className={`stack ${styles.form}`}>
            <SignalWord signal="DANGER">
              <p>
                A unit whose brake assist fails must not be driven, not even to the shed. Stop it
                where it stands, chock the wheels, and have it towed.
              </p>
            </SignalWord>
            <ActForm action={standUnitDown} hidden={{}} button="Take it out of service" isMain>
              <Field
                id="unitId"
                name="unitId"
                label="Unit"
                hint="As on its tag, for example 1106"
                defaultValue={typeof unit === 'string' ? unit : undefined}
                autoCapitalize="characters"
                required
              />
              <SelectField id="cause" name="cause" label="Cause">
                {handCauses.map((cause) => (
                  <option key={cause} value={cause}>
                    {cause}
                  </option>
                ))}
              </SelectField>
              <TextAreaField
                id="note"
                name="note"
                label="What happened"
                hint="May stay empty. Call the desk as well: this page tells nobody."
              />
            </ActForm>
          </div>
        </Panel>
      </Page>
    </Shell>
  );
}
