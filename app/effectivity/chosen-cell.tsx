import Link from 'next/link';
import { DataTable } from '@/app/_ui/data-table';
import { Facts } from '@/app/_ui/facts';
import { Panel } from '@/app/_ui/panel';
import type { effectivityMatrix, unitsUnderBulletin } from '@/db/reads/effectivity';

interface ChosenCellProps {
  readonly bulletin: Awaited<ReturnType<typeof effectivityMatrix>>['bulletins'][number];
  readonly range: string;
  readonly pairs: Awaited<ReturnType<typeof unitsUnderBulletin>>;
}

/** The units behind a cell: why each is covered, or which fact is missing and who can get it. */
export function ChosenCell({ bulletin, range, pairs }: ChosenCellProps) {
  return (
    <Panel title={`${bulletin.number} issue ${bulletin.issue}, ${range}`}>
      <p>{bulletin.conditions}</p>
      <Facts
        facts={[
          { term: 'Kind', value: bulletin.kind },
          { term: 'Issued', value: bulletin.issuedOn },
          ...(bulletin.dueOn ? [{ term: 'Due', value: bulletin.dueOn }] : []),
          { term: 'To do', value: bulletin.actions },
          { term: 'Bay hours', value: bulletin.hours.toFixed(1) },
          { term: 'Source', value: bulletin.source },
        ]}
      />
      {pairs.length === 0 ? (
        <p className="mute">It covers no unit of this range.</p>
      ) : (
        <DataTable label={`Units under ${bulletin.number}`} small>
          <thead>
            <tr>
              <th>Unit</th>
              <th>Status</th>
              <th>Why</th>
            </tr>
          </thead>
          <tbody>
            {pairs.map(({ unitId, status, why, missing }) => (
              <tr key={unitId}>
                <td>
                  <Link href={`/units/${unitId}`}>{unitId}</Link>
                </td>
                <td>{status}</td>
                <td>
                  {why}
                  {missing.map(({ fact, whoCanGetIt, how }) => (
                    <div key={fact} className="small">
                      <b>{whoCanGetIt}:</b> {how}
                    </div>
                  ))}
                </td>
              </tr>
            ))}
          </tbody>
        </DataTable>
      )}
    </Panel>
  );
}
