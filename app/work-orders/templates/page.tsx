import type { Metadata } from 'next';
import { forbidden } from 'next/navigation';
import { requireSignIn } from '@/app/_session';
import { Shell } from '@/app/_shell';
import { Field, TextAreaField } from '@/app/_ui/field';
import { Link } from '@/app/_ui/link';
import { Page } from '@/app/_ui/page';
import { Panel } from '@/app/_ui/panel';
import { ActForm } from '@/app/(safety-officer)/act-form';
import { database } from '@/db/handle';
import { jobTemplates } from '@/db/reads/job-templates';
import { may } from '@/lib/access';
import { newtonMetresPerPoundFoot } from '@/lib/measure';
import { linesOfSteps } from '@/lib/work-orders/step-lines';
import { saveTemplate } from './actions';

export const metadata: Metadata = { title: 'Job templates' };

export default async function TemplatesPage() {
  const person = await requireSignIn('/work-orders/templates');
  if (!may(person, 'plan')) forbidden();
  const templates = await jobTemplates((await database()).db, person);
  return (
    <Shell person={person}>
      <Page
        title="Job templates"
        above={<Link href="/work-orders">Work orders</Link>}
        lede="What each kind of task takes: hours, parts, tools, steps. They are the fleet’s own; service information in force prevails over every value."
      >
        <div className="stack">
          {templates.map(({ kind, title, hours, tools, partNumbers, steps, torqueNm }) => (
            <Panel key={kind} title={title} aside={`${kind}, ${hours} h`}>
              <details>
                <summary>Edit</summary>
                <ActForm action={saveTemplate} hidden={{ kind }} button="Save" isMain>
                  <Field
                    id={`title-${kind}`}
                    name="title"
                    label="Task"
                    defaultValue={title}
                    maxLength={120}
                    size={50}
                  />
                  <Field
                    id={`hours-${kind}`}
                    name="hours"
                    label="Bay hours"
                    defaultValue={String(hours)}
                    inputMode="decimal"
                    size={6}
                    suffix="h"
                  />
                  <Field
                    id={`torque-${kind}`}
                    name="torque"
                    label="Torque, where there is one"
                    defaultValue={
                      torqueNm === null ? '' : (torqueNm / newtonMetresPerPoundFoot).toFixed(1)
                    }
                    inputMode="decimal"
                    size={6}
                    suffix="lb-ft"
                  />
                  <TextAreaField
                    id={`partNumbers-${kind}`}
                    name="partNumbers"
                    label="Part numbers, a line each; the first is what an order needs"
                    defaultValue={partNumbers.join('\n')}
                  />
                  <TextAreaField
                    id={`tools-${kind}`}
                    name="tools"
                    label="Tools, a line each"
                    defaultValue={tools.join('\n')}
                  />
                  <TextAreaField
                    id={`steps-${kind}`}
                    name="steps"
                    label="Steps, a line each: what to do | value with unit | caution"
                    rows={8}
                    defaultValue={linesOfSteps(steps)}
                  />
                </ActForm>
              </details>
            </Panel>
          ))}
        </div>
      </Page>
    </Shell>
  );
}
