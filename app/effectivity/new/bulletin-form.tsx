'use client';

import { useActionState } from 'react';
import { Button } from '@/app/_ui/button';
import { ErrorSummary } from '@/app/_ui/error-summary';
import { Field, SelectField, TextAreaField } from '@/app/_ui/field';
import { StatusLine } from '@/app/_ui/status-line';
import { parts } from '@/lib/analysis/reading';
import { bulletinKinds } from '@/lib/bulletins/bulletin-state';
import { bulletinAction } from './actions';
import styles from './bulletin-form.module.css';

const words = [
  ['number', 'Number', ''],
  ['issue', 'Issue', ''],
  ['title', 'Title', ''],
  ['issuedOn', 'Issued on', 'Year-month-day, such as 2026-03-14'],
  ['dueOn', 'Due on', 'Only for a mandatory bulletin'],
  ['hours', 'Bay hours', ''],
  ['source', 'Source', 'Who issued it'],
] as const;

const conditions = [
  ['make', 'Make', 'Several with commas'],
  ['model', 'Model', 'Several with commas'],
  ['engine', 'Engine', 'Several with commas'],
  ['modelYearFrom', 'Model year from', ''],
  ['modelYearTo', 'Model year to', ''],
  ['builtFrom', 'Built from', 'Month or day: 2018-11 or 2018-11-03'],
  ['builtTo', 'Built to', 'That month or day is in'],
] as const;

export function BulletinForm() {
  const [state, action, isPending] = useActionState(bulletinAction, {
    problems: [],
    preview: null,
    values: {},
  });
  const bound = (name: string) => ({
    id: name,
    name,
    defaultValue: state.values[name] ?? '',
    error: state.problems.find(({ field }) => field === name)?.message,
  });
  return (
    <form action={action} className={styles.form} noValidate key={JSON.stringify(state.values)}>
      <ErrorSummary problems={state.problems} />
      <div className={styles.pair}>
        {words.map(([name, label, hint]) => (
          <Field key={name} label={label} hint={hint || undefined} {...bound(name)} />
        ))}
        <SelectField
          label="Kind"
          {...bound('kind')}
          defaultValue={state.values.kind ?? 'recommended'}
        >
          {bulletinKinds.map((kind) => (
            <option key={kind}>{kind}</option>
          ))}
        </SelectField>
      </div>
      <TextAreaField label="What the bulletin says" {...bound('conditions')} />
      <TextAreaField label="What is to be done" {...bound('actions')} />
      <fieldset>
        <legend>It covers units where all of these hold</legend>
        <div className={styles.pair}>
          {conditions.map(([name, label, hint]) => (
            <Field key={name} label={label} hint={hint || undefined} {...bound(name)} />
          ))}
          <SelectField label="Part fitted" {...bound('part')}>
            <option value="">Any</option>
            {parts.map((part) => (
              <option key={part}>{part}</option>
            ))}
          </SelectField>
          <Field label="in revision" hint="Several with commas" {...bound('revisions')} />
        </div>
      </fieldset>
      {state.preview && (
        <StatusLine>
          Applies to {state.preview.applies}, undecided for {state.preview.undecided}, does not
          apply to {state.preview.doesNot}.
        </StatusLine>
      )}
      <div className={styles.actions}>
        <Button type="submit" name="step" value="preview" disabled={isPending}>
          Preview the counts
        </Button>
        <Button type="submit" name="step" value="enter" main disabled={isPending || !state.preview}>
          Enter the bulletin
        </Button>
      </div>
    </form>
  );
}
