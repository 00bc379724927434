import { DataTable } from '@/app/_ui/data-table';
import { moment } from '@/app/_ui/format';
import { Link } from '@/app/_ui/link';
import type { AmendmentAsked } from '@/db/reads/amendments-asked';
import { amendedWords } from '@/lib/outflow/amended-words';
import { ActForm } from '../act-form';
import { decide } from './actions';

interface AmendmentsTableProps {
  readonly amendments: readonly AmendmentAsked[];
  readonly timeZone: string;
}

export function AmendmentsTable({ amendments, timeZone }: AmendmentsTableProps) {
  return (
    <DataTable label="Amendments that wait for a safety officer">
      <thead>
        <tr>
          <th scope="col">Unit</th>
          <th scope="col">Reading</th>
          <th scope="col">First value, then new</th>
          <th scope="col">Why</th>
          <th scope="col">By</th>
          <th scope="col">Decide</th>
        </tr>
      </thead>
      <tbody>
        {amendments.map((one) => (
          <tr key={one.id}>
            <th scope="row">
              <Link href={`/units/${encodeURIComponent(one.unitId)}`}>{one.unitId}</Link>
            </th>
            <td>
              {one.entry}, {one.readOn}
            </td>
            <td>
              {amendedWords(one.before, one.after).map((line) => (
                <div key={line}>{line}</div>
              ))}
            </td>
            <td>{one.reason}</td>
            <td>
              {one.madeBy}
              <div className="small mute">{moment(one.madeAt, timeZone)}</div>
            </td>
            <td>
              {one.isMineToDecide ? (
                <div className="row">
                  <ActForm
                    action={decide}
                    hidden={{ amendmentId: one.id, isApproved: 'yes' }}
                    button="Approve"
                  />
                  <ActForm
                    action={decide}
                    hidden={{ amendmentId: one.id, isApproved: 'no' }}
                    button="Refuse"
                  />
                </div>
              ) : (
                'another safety officer'
              )}
            </td>
          </tr>
        ))}
      </tbody>
    </DataTable>
  );
}
