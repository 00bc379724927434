import type { Metadata } from 'next';
import { requireSignIn } from '@/app/_session';
import { Shell } from '@/app/_shell';
import { DataTable } from '@/app/_ui/data-table';
import { EmptyState } from '@/app/_ui/empty-state';
import { isoDate } from '@/app/_ui/format';
import { MarkTag } from '@/app/_ui/mark';
import { Page } from '@/app/_ui/page';
import { Panel } from '@/app/_ui/panel';
import { database } from '@/db/handle';
import { bayOverdue } from '@/db/reads/bay-overdue';

export const metadata: Metadata = { title: 'Readings overdue' };

/** A list for the shed's wall: who wants reading, with a box to tick. */
export default async function OverduePage() {
  const person = await requireSignIn('/bay/overdue');
  const sheds = await bayOverdue((await database()).db, person, new Date());
  return (
    <Shell person={person}>
      <Page
        title="Readings overdue"
        above={<a href="/bay">Bay card</a>}
        lede="Units whose reading is due, by shed, the longest overdue first. Prints as it stands."
      >
        {sheds.map(({ name, asOf, units }) => (
          <Panel key={name} title={name} aside={`As of ${isoDate(asOf)}: ${units.length}`} flush>
            {units.length === 0 ? (
              <EmptyState>Every unit of this shed has been read in time.</EmptyState>
            ) : (
              <DataTable label={`Overdue at ${name}`}>
                <thead>
                  <tr>
                    <th scope="col">Unit</th>
                    <th scope="col">Vehicle</th>
                    <th scope="col">Mark</th>
                    <th scope="col">Last read</th>
                    <th scope="col">Due</th>
                    <th scope="col" className="number">
                      Days over
                    </th>
                    <th scope="col">Read</th>
                  </tr>
                </thead>
                <tbody>
                  {units.map(({ id, described, mark, lastReadOn, dueOn }) => (
                    <tr key={id}>
                      <th scope="row">
                        <a href={`/units/${id}`}>{id}</a>
                      </th>
                      <td>{described}</td>
                      <td>{mark && <MarkTag mark={mark} />}</td>
                      <td>{lastReadOn ?? 'never'}</td>
                      <td>{isoDate(dueOn)}</td>
                      <td className="number">{asOf - dueOn}</td>
                      <td>
                        <span aria-hidden="true">☐</span>
                      </td>
                    </tr>
                  ))}
                </tbody>
              </DataTable>
            )}
          </Panel>
        ))}
      </Page>
    </Shell>
  );
}
