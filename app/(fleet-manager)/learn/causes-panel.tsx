import { DataTable } from '@/app/_ui/data-table';
import { EmptyState } from '@/app/_ui/empty-state';
import { Panel } from '@/app/_ui/panel';
import { database } from '@/db/handle';
import type { SignedInPerson } from '@/db/reads/actor-of-person';
import { foundCauses } from '@/db/reads/found-causes';
import { causes } from '@/lib/analysis/assessment';

const title = 'Cause: said beforehand, found in the bay';

export async function CausesPanel({ person }: { readonly person: SignedInPerson }) {
  const { db } = await database();
  const rows = await foundCauses(db, person);
  if (rows.length === 0) {
    return (
      <Panel title={title}>
        <EmptyState>No finished work says what was found.</EmptyState>
      </Panel>
    );
  }
  const found = causes.filter((cause) => rows.some((row) => row.found === cause));
  const said = [...causes, null].filter((cause) => rows.some((row) => row.predicted === cause));
  const ordersOf = (predicted: (typeof said)[number], cause: (typeof causes)[number]) =>
    rows.find((row) => row.predicted === predicted && row.found === cause)?.orders ?? 0;
  const told = rows.filter(({ predicted }) => predicted !== null && predicted !== 'cannot tell');
  const sum = (of: typeof rows) => of.reduce((orders, row) => orders + row.orders, 0);
  const right = sum(told.filter(({ predicted, found: cause }) => predicted === cause));
  return (
    <Panel title={title}>
      <p>
        {sum(told) === 0
          ? 'No cause was said before the work yet.'
          : `Where a cause was said, it was found in ${right} of ${sum(told)} orders.`}
      </p>
      <DataTable label="Orders by cause said and cause found" look="grid" small>
        <thead>
          <tr>
            <th scope="col">Said, found:</th>
            {found.map((cause) => (
              <th key={cause} scope="col" className="number">
                {cause}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {said.map((predicted) => (
            <tr key={predicted ?? 'nothing'}>
              <th scope="row">{predicted ?? 'nothing said'}</th>
              {found.map((cause) => (
                <td key={cause} className="number">
                  {ordersOf(predicted, cause) || ''}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </DataTable>
    </Panel>
  );
}
