import { Field, SelectField } from '@/app/_ui/field';
import { Panel } from '@/app/_ui/panel';
import { ActForm } from '@/app/(safety-officer)/act-form';
import type { BayPlan } from '@/db/reads/bay-plan';
import styles from './bay-plan.module.css';
import { loseHours } from './hours-actions';

interface HoursPanelProps {
  readonly plan: BayPlan;
  readonly weeks: readonly string[];
}

/** Holidays and closures: hours that a shed's bays lose. */
export function HoursPanel({ plan: { input, closures }, weeks }: HoursPanelProps) {
  const nameOf = (shedId: string) => input.sheds.find(({ id }) => id === shedId)?.name ?? shedId;
  const shown = closures.filter(({ week }) => weeks.includes(week));
  return (
    <Panel title={`Bay hours lost: ${shown.length}`}>
      <ul className={styles.list}>
        {shown.map(({ shedId, week, hoursLost, reason }) => (
          <li key={`${shedId} ${week}`}>
            {week}, {nameOf(shedId)}: {hoursLost} h, {reason}
          </li>
        ))}
      </ul>
      <details className="no-print">
        <summary>Change them</summary>
        <ActForm action={loseHours} hidden={{}} button="Note it">
          <SelectField id="shedId" name="shedId" label="Shed">
            {input.sheds.map(({ id, name }) => (
              <option key={id} value={id}>
                {name}
              </option>
            ))}
          </SelectField>
          <SelectField id="closure-week" name="week" label="Week">
            {weeks.map((week) => (
              <option key={week}>{week}</option>
            ))}
          </SelectField>
          <Field
            id="hoursLost"
            name="hoursLost"
            label="Hours lost"
            hint="0 gives the week its hours back."
            inputMode="decimal"
            size={6}
            suffix="h"
          />
          <Field id="closure-reason" name="reason" label="Why" maxLength={200} />
        </ActForm>
      </details>
    </Panel>
  );
}
