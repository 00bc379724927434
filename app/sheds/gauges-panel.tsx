import { DataTable } from '@/app/_ui/data-table';
import { EmptyState } from '@/app/_ui/empty-state';
import { ChoiceField, Field, SelectField } from '@/app/_ui/field';
import { Panel } from '@/app/_ui/panel';
import { ActForm } from '@/app/(safety-officer)/act-form';
import type { ShedListed } from '@/db/reads/sheds';
import { pressureUnits } from '@/lib/measure';
import { endGauge, newGauge } from './actions';
import styles from './sheds.module.css';

export function GaugesPanel({ sheds }: { readonly sheds: readonly ShedListed[] }) {
  const all = sheds.flatMap(({ details, gauges }) =>
    gauges.map((gauge) => ({ ...gauge, shed: details.name })),
  );
  return (
    <>
      <Panel title="Gauges" id="gauges" flush={all.length > 0}>
        {all.length === 0 && <EmptyState>No gauge is on record: readings name none.</EmptyState>}
        {all.length > 0 && (
          <DataTable label="Gauges in use">
            <thead>
              <tr>
                <th scope="col">Gauge</th>
                <th scope="col">Short name</th>
                <th scope="col">Shed</th>
                <th scope="col">Shows</th>
                <th scope="col">Calibration due</th>
                <th scope="col">Retire</th>
              </tr>
            </thead>
            <tbody>
              {all.map(({ id, label, shed, pressureUnit, isLogging, calibrationDueOn }) => (
                <tr key={id}>
                  <th scope="row">{label}</th>
                  <td>{id}</td>
                  <td>{shed}</td>
                  <td>
                    {pressureUnit}
                    {isLogging && ', logs'}
                  </td>
                  <td>{calibrationDueOn ?? '–'}</td>
                  <td>
                    <ActForm action={endGauge} hidden={{ gaugeId: id }} button={`Retire ${id}`} />
                  </td>
                </tr>
              ))}
            </tbody>
          </DataTable>
        )}
      </Panel>
      {sheds.length > 0 && (
        <Panel title="Add a gauge">
          <div className={styles.form}>
            <ActForm action={newGauge} hidden={{}} button="Add the gauge">
              <Field id="gaugeId-gauge" name="gaugeId" label="Short name" required />
              <Field
                id="label-gauge"
                name="label"
                label="Words on it"
                hint="What tells it from the others in the shed."
                required
              />
              <SelectField id="shedId-gauge" name="shedId" label="Shed">
                {sheds.map(({ details }) => (
                  <option key={details.id} value={details.id}>
                    {details.name}
                  </option>
                ))}
              </SelectField>
              <SelectField id="pressureUnit-gauge" name="pressureUnit" label="Shows">
                {pressureUnits.map((unit) => (
                  <option key={unit}>{unit}</option>
                ))}
              </SelectField>
              <ChoiceField
                id="isLogging-gauge"
                name="isLogging"
                value="yes"
                label="Logs its readings to a file"
              />
              <Field
                id="calibrationDueOn-gauge"
                name="calibrationDueOn"
                type="date"
                label="Calibration due"
              />
            </ActForm>
          </div>
        </Panel>
      )}
    </>
  );
}
