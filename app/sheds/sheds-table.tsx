import { DataTable } from '@/app/_ui/data-table';
import { Dialog } from '@/app/_ui/dialog';
import { ActForm } from '@/app/(safety-officer)/act-form';
import type { ShedListed } from '@/db/reads/sheds';
import { ambientPressureAt } from '@/lib/atmosphere';
import { formatPressure } from '@/lib/measure';
import { changeShed } from './actions';
import { ShedFields } from './shed-fields';

export function ShedsTable({ sheds }: { readonly sheds: readonly ShedListed[] }) {
  return (
    <DataTable label="Sheds">
      <thead>
        <tr>
          <th scope="col">Name</th>
          <th scope="col">Short name</th>
          <th scope="col" className="number">
            Elevation, m
          </th>
          <th scope="col" className="number">
            Standard air
          </th>
          <th scope="col">Time zone</th>
          <th scope="col">Measured in</th>
          <th scope="col" className="number">
            Bay h a week
          </th>
          <th scope="col" className="number">
            Units
          </th>
          <th scope="col">Change</th>
        </tr>
      </thead>
      <tbody>
        {sheds.map(({ details, units }) => (
          <tr key={details.id}>
            <th scope="row">{details.name}</th>
            <td>{details.id}</td>
            <td className="number">{details.elevationM.toFixed(0)}</td>
            <td className="number">
              {formatPressure(ambientPressureAt(details.elevationM), details.pressureUnit)}
            </td>
            <td>{details.timeZone}</td>
            <td>
              {details.pressureUnit}, {details.distanceUnit}
            </td>
            <td className="number">{details.bayHoursPerWeek}</td>
            <td className="number">{units}</td>
            <td>
              <Dialog opener={`Change ${details.name}`} title={details.name}>
                <ActForm
                  action={changeShed}
                  hidden={{ shedId: details.id }}
                  button="Change it"
                  isMain
                >
                  <ShedFields shed={details} />
                  <p className="mute small">
                    Another elevation or zone has the shed’s units judged again.
                  </p>
                </ActForm>
              </Dialog>
            </td>
          </tr>
        ))}
      </tbody>
    </DataTable>
  );
}
