import { DataTable } from '@/app/_ui/data-table';
import { Field, SelectField } from '@/app/_ui/field';
import { Link } from '@/app/_ui/link';
import { Panel } from '@/app/_ui/panel';
import { ActForm } from '@/app/(safety-officer)/act-form';
import type { Today } from '@/db/reads/today';
import { bringBack, layUp } from './actions';

interface AwayPanelProps {
  readonly today: Today;
  readonly mayPlan: boolean;
}

export function AwayPanel({ today: { away, awayCount }, mayPlan }: AwayPanelProps) {
  return (
    <Panel title="Laid up or gone" aside={awayCount}>
      <p className="small mute">No mark stands for them. They are read before use again.</p>
      {away.length > 0 && (
        <DataTable label="Units laid up or gone" small>
          <thead>
            <tr>
              <th scope="col">Unit</th>
              <th scope="col">Shed</th>
              <th scope="col">Since</th>
              <th scope="col">Last read</th>
              {mayPlan && <th scope="col">Back</th>}
            </tr>
          </thead>
          <tbody>
            {away.map(({ unitId, shed, laidUpOn, leftFleetOn, lastReadOn }) => (
              <tr key={unitId}>
                <th scope="row">
                  <Link href={`/units/${unitId}`}>{unitId}</Link>
                </th>
                <td>{shed}</td>
                <td>{leftFleetOn ? `left the fleet ${leftFleetOn}` : `laid up ${laidUpOn}`}</td>
                <td>{lastReadOn ?? 'never'}</td>
                {mayPlan && (
                  <td>
                    <ActForm action={bringBack} hidden={{ unitId }} button="Bring back" />
                  </td>
                )}
              </tr>
            ))}
          </tbody>
        </DataTable>
      )}
      {awayCount > away.length && (
        <p className="small">
          <Link href="/yard?mark=all&standing=laid+up">All in the yard</Link>
        </p>
      )}
      {mayPlan && (
        <details className="no-print">
          <summary>Lay a unit up, or note that it left</summary>
          <ActForm action={layUp} hidden={{}} button="Note it">
            <Field id="unitId" name="unitId" label="Unit" maxLength={16} />
            <SelectField id="what" name="what" label="What">
              <option>laid up</option>
              <option>left the fleet</option>
            </SelectField>
            <Field id="on" name="on" label="From" type="date" />
          </ActForm>
        </details>
      )}
    </Panel>
  );
}
