import type { Metadata } from 'next';
import { requireSignIn } from '@/app/_session';
import { Shell } from '@/app/_shell';
import { LinkButton } from '@/app/_ui/button';
import { DataTable } from '@/app/_ui/data-table';
import { EmptyState } from '@/app/_ui/empty-state';
import { Link } from '@/app/_ui/link';
import { MarkGlyph } from '@/app/_ui/mark';
import { Page } from '@/app/_ui/page';
import { Panel } from '@/app/_ui/panel';
import { database } from '@/db/handle';
import { workOrders } from '@/db/reads/work-orders';
import { may, permissionOf } from '@/lib/access';
import type { WorkOrderState } from '@/lib/work-orders/move-order';
import { orderStateWords } from './words';

export const metadata: Metadata = { title: 'Work orders' };

const groups: readonly { readonly title: string; readonly states: readonly WorkOrderState[] }[] = [
  { title: 'In the bays', states: ['begun', 'waiting'] },
  { title: 'Finished, proof reading owed', states: ['finished'] },
  { title: 'Placed', states: ['placed'] },
  { title: 'Raised, not placed', states: ['raised'] },
];

export default async function WorkOrdersPage() {
  const person = await requireSignIn('/work-orders');
  const { db } = await database();
  const rows = await workOrders(
    db,
    person,
    groups.flatMap(({ states }) => states),
  );
  return (
    <Shell person={person}>
      <Page
        title="Work orders"
        lede={`${rows.length} open`}
        actions={
          <>
            {permissionOf(person.role, 'raise a work order') !== 'no' && (
              <LinkButton href="/work-orders/new">Raise an order</LinkButton>
            )}
            {may(person, 'plan') && (
              <LinkButton href="/work-orders/templates">Job templates</LinkButton>
            )}
          </>
        }
      >
        {rows.length === 0 && <EmptyState>No work order is open.</EmptyState>}
        <div className="stack">
          {groups.map(({ title, states }) => {
            const own = rows.filter(({ state }) => states.includes(state));
            if (own.length === 0) return null;
            return (
              <Panel key={title} title={title} aside={`${own.length}`} flush>
                <DataTable label={title} stacks widths={[7, 11, 36, 12, 10, 6, 18]}>
                  <thead>
                    <tr>
                      <th scope="col">Order</th>
                      <th scope="col">Unit</th>
                      <th scope="col">Why</th>
                      <th scope="col">Shed</th>
                      <th scope="col">Week</th>
                      <th scope="col" className="number">
                        Hours
                      </th>
                      <th scope="col">State</th>
                    </tr>
                  </thead>
                  <tbody>
                    {own.map((row) => (
                      <tr key={row.id}>
                        <th scope="row">
                          <Link href={`/work-orders/${row.number}`}>{row.number}</Link>
                        </th>
                        <td data-label="Unit" className="unbroken">
                          {row.mark && <MarkGlyph mark={row.mark} size={14} />}{' '}
                          <Link href={`/units/${row.unitId}`}>{row.unitId}</Link>
                        </td>
                        <td data-label="Why" className="words">
                          {row.why}
                        </td>
                        <td data-label="Shed">{row.shed}</td>
                        <td data-label="Week" className="unbroken">
                          {row.week ?? 'Not placed'}
                        </td>
                        <td data-label="Hours" className="number">
                          {row.hours.toFixed(1)}
                        </td>
                        <td data-label="State">
                          {orderStateWords[row.state]}
                          {row.waitingFor && `: ${row.waitingFor}`}
                          {row.waitingUntil && `, due ${row.waitingUntil}`}
                        </td>
                      </tr>
                    ))}
                  </tbody>
                </DataTable>
              </Panel>
            );
          })}
        </div>
      </Page>
    </Shell>
  );
}
