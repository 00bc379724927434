import type { Metadata } from 'next';
import { requireSignIn } from '@/app/_session';
import { Shell } from '@/app/_shell';
import { Field, TextAreaField } from '@/app/_ui/field';
import { Link } from '@/app/_ui/link';
import { Page } from '@/app/_ui/page';
import { Panel } from '@/app/_ui/panel';
import { SignalWord } from '@/app/_ui/signal-word';
import { database } from '@/db/handle';
import { clockOfPerson } from '@/db/reads/clock-of-person';
import { limitsInForce } from '@/db/reads/limits-in-force';
import { requirePermission } from '@/lib/access';
import { isoFromDay, localDay } from '@/lib/calendar';
import { limitFigure, limitRows, limitUnit } from '@/lib/intake/limit-rows';
import { ActForm } from '../../act-form';
import { propose } from '../actions';
import styles from '../limits.module.css';

export const metadata: Metadata = { title: 'Propose limits' };

export default async function ProposeLimitsPage() {
  const person = await requireSignIn('/limits/propose');
  requirePermission(person, 'propose limits');
  const { db } = await database();
  const today = localDay(new Date(), await clockOfPerson(db, person));
  const inForce = await limitsInForce(db, today);
  const units = { pressure: person.pressureUnit, distance: person.distanceUnit };
  return (
    <Shell person={person}>
      <Page title="Propose a set of limits" above={<Link href="/limits">Limits</Link>}>
        <Panel>
          <div className="stack">
            <SignalWord signal="WARNING">
              <p>
                A lower stop lets a unit drive with less brake assist. Service information in force
                and local law come first.
              </p>
            </SignalWord>
            <ActForm action={propose} hidden={{}} button="Propose it" isMain>
              <div className={styles.fields}>
                {limitRows.map(({ name, label, quantity }) => (
                  <Field
                    key={name}
                    id={name}
                    name={name}
                    label={label}
                    suffix={limitUnit(quantity, units)}
                    inputMode="decimal"
                    defaultValue={limitFigure(inForce[name], quantity, units)}
                  />
                ))}
              </div>
              <Field
                id="effectiveFrom"
                name="effectiveFrom"
                type="date"
                label="Counts from"
                defaultValue={isoFromDay(today)}
              />
              <TextAreaField id="source" name="source" label="Source of the figures" rows={2} />
              <TextAreaField id="reason" name="reason" label="Why the set changes" rows={2} />
            </ActForm>
          </div>
        </Panel>
      </Page>
    </Shell>
  );
}
