import { randomUUID } from 'node:crypto';
import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { z } from 'zod';
import { requireSignIn } from '@/app/_session';
import { Shell } from '@/app/_shell';
import { EmptyState } from '@/app/_ui/empty-state';
import { Field, SelectField } from '@/app/_ui/field';
import { distance, moment, pressure, seconds } from '@/app/_ui/format';
import { Page } from '@/app/_ui/page';
import { Panel } from '@/app/_ui/panel';
import { ActForm } from '@/app/(safety-officer)/act-form';
import { database } from '@/db/handle';
import { bayReading } from '@/db/reads/bay-reading';
import { may } from '@/lib/access';
import { lineStates, pedalStates } from '@/lib/analysis/reading';
import { mayAmend } from '@/lib/intake/may-amend';
import { pressureUnits } from '@/lib/measure';
import { amend } from './actions';

export const metadata: Metadata = { title: 'Amend a reading' };

const reasons = [
  'keyed a wrong figure',
  'read the wrong scale of the gauge',
  'read the wrong unit',
  'the gauge leaked',
  'wrong choice touched',
] as const;

/** A correction beside the first values: one's own within 24 hours, or as safety officer. */
export default async function AmendPage({ params }: PageProps<'/bay/amend/[reading]'>) {
  const { reading: id } = await params;
  const person = await requireSignIn(`/bay/amend/${id}`);
  if (!z.uuid().safeParse(id).success || !may(person, 'amend a reading', person.shedIds[0])) {
    notFound();
  }
  const found = await bayReading((await database()).db, person, id);
  if (!found) notFound();
  const { values, unitId } = found;
  const now = new Date();
  const { pressureUnit, distanceUnit } = person;
  const figures = [
    ['idle', 'Idle vacuum', pressure(values.idle, pressureUnit)],
    ['lowest', 'Lowest', pressure(values.lowest, pressureUnit)],
    ['recovery', 'Recovery', seconds(values.recovery), 's'],
    ['holdLoss', 'Lost in the hold', pressure(values.holdLoss, pressureUnit)],
    ['odometer', 'Odometer', distance(values.odometer, distanceUnit), distanceUnit],
  ] as const;
  return (
    <Shell person={person}>
      <Page
        title={`Amend the reading of ${unitId}`}
        above={<a href={`/units/${unitId}`}>Unit {unitId}</a>}
        lede={`Read ${moment(found.readAt, found.timeZone)}. Your own readings within 24 hours; the safety officer at any time. The first values stay on record.`}
      >
        {mayAmend(person, { technicianId: found.signedBy, receivedAt: found.receivedAt }, now) ? (
          <Panel title="What was wrong">
            <ActForm
              action={amend}
              hidden={{ readingId: id, amendmentId: randomUUID() }}
              button="Amend"
              isMain
            >
              <SelectField
                id="pressureUnit"
                name="pressureUnit"
                label="Vacuum is keyed in"
                hint="The unit on the gauge's face."
                defaultValue={pressureUnit}
              >
                {pressureUnits.map((unit) => (
                  <option key={unit}>{unit}</option>
                ))}
              </SelectField>
              {figures.map(([name, label, standing, unit]) => (
                <Field
                  key={name}
                  id={name}
                  name={name}
                  label={label}
                  hint={`On record: ${standing}. Empty keeps it.`}
                  suffix={unit}
                  inputMode="decimal"
                />
              ))}
              <SelectField id="line" name="line" label="Line" hint={`On record: ${values.line}.`}>
                <option value="">keep</option>
                {lineStates.map((state) => (
                  <option key={state}>{state}</option>
                ))}
              </SelectField>
              <SelectField
                id="pedal"
                name="pedal"
                label="Pedal"
                hint={`On record: ${values.pedal ?? 'not tried'}.`}
              >
                <option value="">keep</option>
                {pedalStates.map((state) => (
                  <option key={state}>{state}</option>
                ))}
              </SelectField>
              <SelectField id="reason" name="reason" label="Why">
                <option value="">choose</option>
                {reasons.map((reason) => (
                  <option key={reason}>{reason}</option>
                ))}
              </SelectField>
            </ActForm>
          </Panel>
        ) : (
          <EmptyState>
            This one is another person's, or older than 24 hours. Ask the safety officer.
          </EmptyState>
        )}
      </Page>
    </Shell>
  );
}
