'use client';

import { useActionState, useState } from 'react';
import { Button } from '@/app/_ui/button';
import { ErrorSummary } from '@/app/_ui/error-summary';
import { ChoiceField, Field, SelectField, TextAreaField } from '@/app/_ui/field';
import { bulletinKinds } from '@/lib/bulletins/bulletin-state';
import type { DistanceUnit, PressureUnit } from '@/lib/measure';
import { bulletinAction } from './actions';
import styles from './bulletin-form.module.css';
import { RangeFields } from './range-fields';
import { RulePreviewPanel } from './rule-preview-panel';

interface BulletinFormProps {
  /** Issues in force, which this one may replace. */
  readonly inForce: readonly { readonly id: string; readonly name: string }[];
  readonly units: { readonly pressure: PressureUnit; readonly distance: DistanceUnit };
}

const head = [
  ['number', 'Number', ''],
  ['issue', 'Issue and revision', 'Such as 2, or 2 rev B'],
  ['source', 'Source', 'Who issued it'],
] as const;
const terms = [
  ['issuedOn', 'Issued on', 'Such as 2026-03-14'],
  ['dueOn', 'Due on', 'A mandatory bulletin needs one'],
  ['hours', 'Bay hours', '0 for none'],
] as const;

export function BulletinForm({ inForce, units }: BulletinFormProps) {
  const [{ problems, preview, values }, action, isPending] = useActionState(bulletinAction, {
    problems: [],
    preview: null,
    values: {},
  });
  const [ranges, setRanges] = useState([0]);
  const bound = (name: string) => ({
    id: name,
    name,
    defaultValue: values[name] ?? '',
    error: problems.find(({ field }) => field === name)?.message,
  });
  return (
    <form action={action} className={styles.form} noValidate key={JSON.stringify(values)}>
      <ErrorSummary problems={problems} />
      <input type="hidden" name="ranges" value={ranges.join()} />
      <input type="hidden" name="previewed" value={values.previewed ?? ''} />
      <div className={styles.pair}>
        {head.map(([name, label, hint]) => (
          <Field key={name} label={label} hint={hint || undefined} {...bound(name)} />
        ))}
        <SelectField label="Kind" {...bound('kind')} defaultValue={values.kind ?? 'recommended'}>
          {bulletinKinds.map((kind) => (
            <option key={kind}>{kind}</option>
          ))}
        </SelectField>
      </div>
      <div className={styles.title}>
        <Field label="Title" {...bound('title')} />
      </div>
      <div className={styles.pair}>
        {terms.map(([name, label, hint]) => (
          <Field key={name} label={label} hint={hint} {...bound(name)} />
        ))}
        <Field
          label="Parts that must be fitted"
          hint="Such as pump C or D; check valve"
          {...bound('requiredParts')}
        />
      </div>
      <div className={styles.title}>
        <SelectField label="Supersedes" {...bound('supersedesId')}>
          <option value="">Nothing</option>
          {inForce.map(({ id, name }) => (
            <option key={id} value={id}>
              {name}
            </option>
          ))}
        </SelectField>
      </div>
      <ChoiceField
        id="doesDoneCarry"
        name="doesDoneCarry"
        value="yes"
        defaultChecked={values.doesDoneCarry === 'yes'}
        label="Work done under the superseded issue counts"
        hint="Only while the parts asked for are fitted."
      />
      <TextAreaField label="What the bulletin says" {...bound('conditions')} />
      <TextAreaField label="What is to be done" {...bound('actions')} />
      <p>It covers a unit that any one of these ranges covers.</p>
      {ranges.map((range, index) => (
        <RangeFields
          key={range}
          range={range}
          place={index + 1}
          values={values}
          problems={problems}
          units={units}
          onRemove={
            ranges.length > 1 ? () => setRanges(ranges.filter((one) => one !== range)) : null
          }
        />
      ))}
      <div>
        <Button
          onClick={() => setRanges([...ranges, Math.max(...ranges) + 1])}
          disabled={ranges.length >= 50}
        >
          Add a range
        </Button>
      </div>
      {preview && <RulePreviewPanel preview={preview} kind={values.kind ?? ''} />}
      <div className={styles.actions}>
        <Button type="submit" name="step" value="preview" disabled={isPending}>
          Preview the counts
        </Button>
        <Button type="submit" name="step" value="enter" main disabled={isPending || !preview}>
          Enter the bulletin
        </Button>
      </div>
    </form>
  );
}
