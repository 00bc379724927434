'use client';

import { useActionState } from 'react';
import { Button } from '@/app/_ui/button';
import { ErrorSummary } from '@/app/_ui/error-summary';
import { ChoiceField, Field, SelectField } from '@/app/_ui/field';
import { causes } from '@/lib/analysis/assessment';
import { type Part, parts as partKinds, removalReasons } from '@/lib/analysis/reading';
import type { DistanceUnit } from '@/lib/measure';
import { finishOrderAction } from '../actions';
import styles from '../work-orders.module.css';

interface FinishFormProps {
  readonly orderId: string;
  readonly version: number;
  readonly odometerUnit: DistanceUnit;
  readonly tasks: readonly {
    readonly id: string;
    readonly title: string;
    readonly state: string;
  }[];
  readonly parts: readonly {
    readonly part: Part;
    readonly partNumber: string;
    readonly revision: string;
  }[];
}

export function FinishForm({ orderId, version, odometerUnit, tasks, parts }: FinishFormProps) {
  const [outcome, action, isPending] = useActionState(finishOrderAction, { problems: [] });
  const errorOf = (field: string) => outcome.problems.find((one) => one.field === field)?.message;
  return (
    <form action={action} className={styles.form} noValidate>
      <ErrorSummary problems={outcome.problems} />
      <input type="hidden" name="orderId" value={orderId} />
      <input type="hidden" name="seenVersion" value={version} />
      <input type="hidden" name="odometerUnit" value={odometerUnit} />
      <fieldset>
        <legend>Tasks</legend>
        {tasks
          .filter(({ state }) => state === 'open')
          .map(({ id, title }) => (
            <fieldset key={id} className={styles.task}>
              <legend>{title}</legend>
              <div className={styles.choices}>
                <ChoiceField
                  id={`done-${id}`}
                  type="radio"
                  name={`task:${id}`}
                  value="done"
                  label="Done"
                />
                <ChoiceField
                  id={`struck-${id}`}
                  type="radio"
                  name={`task:${id}`}
                  value="struck"
                  label="Struck"
                />
              </div>
              <Field
                id={`why-${id}`}
                name={`why:${id}`}
                label="Why struck"
                error={errorOf(`why-${id}`)}
              />
            </fieldset>
          ))}
      </fieldset>
      <fieldset>
        <legend>Parts fitted</legend>
        {partKinds.map((part) => {
          const known = parts.filter((one) => one.part === part);
          return (
            <div key={part} className={styles.task}>
              <ChoiceField
                id={`fitted-${part}`}
                name={`fitted:${part}`}
                value="yes"
                label={`New ${part} fitted`}
              />
              <div className={styles.choices}>
                <Field
                  id={`revision-${part}`}
                  name={`revision:${part}`}
                  label="Revision"
                  list={`revisions-${part}`}
                  maxLength={20}
                />
                <datalist id={`revisions-${part}`}>
                  {known.map(({ partNumber, revision }) => (
                    <option key={`${partNumber} ${revision}`} value={revision}>
                      {`${partNumber} ${revision}`}
                    </option>
                  ))}
                </datalist>
                <Field
                  id={`dateCode-${part}`}
                  name={`dateCode:${part}`}
                  label="Date code"
                  maxLength={20}
                />
                <SelectField
                  id={`removed-${part}`}
                  name={`removed:${part}`}
                  label="Old one came off because"
                >
                  {removalReasons.map((reason) => (
                    <option key={reason}>{reason}</option>
                  ))}
                </SelectField>
              </div>
            </div>
          );
        })}
      </fieldset>
      <SelectField
        id="foundCause"
        name="foundCause"
        label="Cause found"
        defaultValue=""
        error={errorOf('foundCause')}
      >
        <option value="">Choose</option>
        {causes.map((cause) => (
          <option key={cause}>{cause}</option>
        ))}
      </SelectField>
      <Field
        id="odometer"
        name="odometer"
        label="Odometer"
        inputMode="numeric"
        suffix={odometerUnit}
        error={errorOf('odometer')}
      />
      <Button type="submit" main disabled={isPending}>
        Finish, and ask for the proof reading
      </Button>
    </form>
  );
}
