import { Field, SelectField } from '@/app/_ui/field';
import { ActForm } from '@/app/(safety-officer)/act-form';
import type { UnitOnSheet } from '@/db/reads/unit-on-sheet';
import { parts } from '@/lib/analysis/reading';
import { buildDateFromParts, formatBuildDate } from '@/lib/bulletins/build-date';
import type { BulletinFacts } from '@/lib/bulletins/unit-facts';
import { recordFactsAction } from './actions';

interface FactsFormProps {
  readonly unit: UnitOnSheet['unit'];
  readonly fitted: BulletinFacts['fitted'];
}

/** Each fact with its value on record; only what differs from the record is sent to it. */
export function FactsForm({ unit, fitted }: FactsFormProps) {
  const built =
    unit.builtYear === null
      ? null
      : buildDateFromParts(unit.builtYear, unit.builtMonth, unit.builtDay);
  const bound = (name: string, value: string | number | null) => ({
    id: name,
    name,
    defaultValue: value ?? '',
  });
  return (
    <ActForm action={recordFactsAction} hidden={{ unitId: unit.id }} button="Put on record" isMain>
      <Field label="VIN" hint="17 characters from plate or label" {...bound('vin', unit.vin)} />
      <SelectField
        label="Check digit of the VIN"
        hint="A North American rule: elsewhere position 9 may hold anything"
        {...bound('isCheckDigitRequired', unit.isCheckDigitRequired ? 'yes' : 'no')}
      >
        <option value="yes">required where it was sold</option>
        <option value="no">not required</option>
      </SelectField>
      <Field label="Make" {...bound('make', unit.make)} />
      <Field label="Model" {...bound('model', unit.model)} />
      <Field label="Model year" inputMode="numeric" {...bound('modelYear', unit.modelYear)} />
      <Field label="Engine" {...bound('engine', unit.engine)} />
      <Field
        label="Built"
        hint="Month as on the label: 3/19 or 2019-03; with the day where it is known"
        {...bound('built', built && formatBuildDate(built))}
      />
      {parts.map((part) => {
        const now = fitted.find((one) => one.part === part);
        return (
          <fieldset key={part}>
            <legend>The {part} that is fitted</legend>
            <div className="row">
              <Field label="Revision" {...bound(`revision:${part}`, now?.revision ?? null)} />
              <Field label="Date code" {...bound(`dateCode:${part}`, now?.dateCode ?? null)} />
            </div>
          </fieldset>
        );
      })}
    </ActForm>
  );
}
