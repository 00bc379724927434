import type { Metadata } from 'next';
import { forbidden } from 'next/navigation';
import { requireSignIn } from '@/app/_session';
import { Shell } from '@/app/_shell';
import { DownloadButton } from '@/app/_ui/button';
import { DataTable } from '@/app/_ui/data-table';
import { EmptyState } from '@/app/_ui/empty-state';
import { Link } from '@/app/_ui/link';
import { Page } from '@/app/_ui/page';
import { Panel } from '@/app/_ui/panel';
import { PrintButton } from '@/app/_ui/print-button';
import { may } from '@/lib/access';
import { isoWeekOf } from '@/lib/calendar';
import { neededBy, partsReport } from './parts-report';
import { StockForm } from './stock-form';

export const metadata: Metadata = { title: 'Parts' };

export default async function PartsPage() {
  const person = await requireSignIn('/parts');
  if (!may(person, 'plan')) forbidden();
  const { weeks, parts, stock, notListed } = await partsReport(person);
  return (
    <Shell person={person}>
      <Page
        title="Parts by week"
        above={<Link href="/bay-plan">Bay plan</Link>}
        lede="Pieces needed up to the end of each week: placed work for certain, forecast work by its probability. Mean, and 8 in 10 between."
        actions={
          <>
            <DownloadButton href="/parts/csv">Export CSV</DownloadButton>
            <PrintButton>Print</PrintButton>
          </>
        }
      >
        <div className="stack">
          <Panel flush>
            {parts.length === 0 ? (
              <EmptyState>No part is on the list.</EmptyState>
            ) : (
              <DataTable label="Pieces needed by week" look="grid" small>
                <thead>
                  <tr>
                    <th scope="col">Part</th>
                    <th scope="col">Order by</th>
                    <th scope="col" className="number">
                      Order
                    </th>
                    <th scope="col" className="number">
                      Stock
                    </th>
                    {weeks.map(({ week }) => (
                      <th key={week} scope="col" className="number">
                        {week.slice(5)}
                      </th>
                    ))}
                  </tr>
                </thead>
                <tbody>
                  {parts.map((each) => (
                    <tr key={each.part.partNumber + each.part.revision}>
                      <th scope="row" className="unbroken">
                        {each.part.partNumber} {each.part.revision}
                      </th>
                      <td>
                        {each.orderBy === null ? 'enough' : isoWeekOf(each.orderBy)}
                        {each.isLate && <b> late</b>}
                      </td>
                      <td className="number">{each.toOrder}</td>
                      <td className="number">{each.inStock}</td>
                      {weeks.map(({ week, monday }) => {
                        const { expected, low80, high80 } = neededBy(each, monday);
                        return (
                          <td key={week} className="number">
                            {expected === 0 ? '' : `${expected.toFixed(1)} (${low80}–${high80})`}
                          </td>
                        );
                      })}
                    </tr>
                  ))}
                </tbody>
              </DataTable>
            )}
          </Panel>
          {notListed.length > 0 && (
            <p>Asked for by tasks, but not on the list of parts: {notListed.join(', ')}.</p>
          )}
          <Panel title="Stock by revision" flush>
            <DataTable label="Stock by revision">
              <thead>
                <tr>
                  <th scope="col">Part</th>
                  <th scope="col">Revision</th>
                  <th scope="col">Description</th>
                  <th scope="col">Replaced by</th>
                  <th scope="col" className="number">
                    In stock
                  </th>
                  <th scope="col" className="number">
                    Lead time, days
                  </th>
                </tr>
              </thead>
              <tbody>
                {stock.map((part) => (
                  <tr key={part.partNumber + part.revision}>
                    <th scope="row" className="unbroken">
                      {part.partNumber}
                    </th>
                    <td>{part.revision}</td>
                    <td>{part.description}</td>
                    <td>{part.supersededBy ?? ''}</td>
                    <td className="number">{part.inStock}</td>
                    <td className="number">{part.leadTimeDays}</td>
                  </tr>
                ))}
              </tbody>
            </DataTable>
          </Panel>
          <div className="no-print">
            <Panel title="Put the list right">
              {stock.map((part) => (
                <details key={part.partNumber + part.revision}>
                  <summary>
                    {part.partNumber} {part.revision}, {part.description}
                  </summary>
                  <StockForm
                    part={part}
                    others={stock
                      .filter((one) => one.partNumber === part.partNumber && one !== part)
                      .map(({ revision }) => revision)}
                  />
                </details>
              ))}
              <details>
                <summary>A revision that is not on the list</summary>
                <StockForm part={null} others={[]} />
              </details>
            </Panel>
          </div>
        </div>
      </Page>
    </Shell>
  );
}
