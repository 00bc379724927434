import { Field, SelectField } from '@/app/_ui/field';
import type { ShedListed } from '@/db/reads/sheds';
import { distanceUnits, pressureUnits } from '@/lib/measure';
import { elevationUnits } from '@/lib/sheds/shed-details';

/** Fields of a shed; empty for one still to be added. */
export function ShedFields({ shed }: { readonly shed?: ShedListed['details'] }) {
  const idOf = (name: string) => (shed ? `${name}-${shed.id}` : name);
  const unitField = (name: string, label: string, units: readonly string[], standing?: string) => (
    <SelectField id={idOf(name)} name={name} label={label} defaultValue={standing}>
      {units.map((unit) => (
        <option key={unit}>{unit}</option>
      ))}
    </SelectField>
  );
  return (
    <>
      {!shed && (
        <Field
          id="shedId"
          name="shedId"
          label="Short name"
          hint="Small letters, digits and hyphens; stands in files, and never changes."
          required
        />
      )}
      <Field id={idOf('name')} name="name" label="Name" defaultValue={shed?.name} required />
      <Field
        id={idOf('elevation')}
        name="elevation"
        label="Elevation"
        hint="Of the shed itself: it decides how much vacuum its air can give."
        inputMode="decimal"
        defaultValue={shed?.elevationM}
        required
      />
      {unitField('elevationUnit', 'Elevation in', elevationUnits, shed ? 'm' : 'ft')}
      <Field
        id={idOf('timeZone')}
        name="timeZone"
        label="Time zone"
        hint="Such as America/Denver."
        list="time-zones"
        defaultValue={shed?.timeZone}
        required
      />
      {unitField('pressureUnit', 'Pressures in', pressureUnits, shed?.pressureUnit)}
      {unitField('distanceUnit', 'Distances in', distanceUnits, shed?.distanceUnit)}
      <Field
        id={idOf('bayHoursPerWeek')}
        name="bayHoursPerWeek"
        label="Bay hours a week"
        hint="Hours for work on vacuum and belts."
        inputMode="decimal"
        defaultValue={shed?.bayHoursPerWeek}
        suffix="h"
        required
      />
    </>
  );
}
