import type { Metadata } from 'next';
import { requireSignIn } from '@/app/_session';
import { Shell } from '@/app/_shell';
import { DownloadButton } from '@/app/_ui/button';
import { SeriesChart } from '@/app/_ui/charts/series-chart';
import { DataTable } from '@/app/_ui/data-table';
import { Link } from '@/app/_ui/link';
import { Page } from '@/app/_ui/page';
import { Panel } from '@/app/_ui/panel';
import { database } from '@/db/handle';
import { clockOfPerson } from '@/db/reads/clock-of-person';
import { safetyReview } from '@/db/reads/safety-review';
import { may } from '@/lib/access';
import { isoFromDay, localDay } from '@/lib/calendar';
import styles from './review.module.css';
import { reviewColumns } from './review-columns';
import { reviewSpec } from './review-spec';

export const metadata: Metadata = { title: 'Safety review' };

export default async function SafetyReviewPage() {
  const person = await requireSignIn('/safety-review');
  const { db } = await database();
  const asOf = localDay(new Date(), await clockOfPerson(db, person));
  const months = await safetyReview(db, person, { asOf, months: 12 });
  const newestFirst = months.toReversed();
  return (
    <Shell person={person} asOf={isoFromDay(asOf)}>
      <Page
        title="Safety review"
        above={<Link href="/stand-down">Stand-down</Link>}
        lede="Twelve months of units out of service. The running month counts up to today."
        actions={
          may(person, 'export') && (
            <DownloadButton href="/safety-review/csv">Export CSV</DownloadButton>
          )
        }
      >
        <div className="stack">
          <div className={styles.months}>
            <Panel>
              <DataTable label="Figures by month, newest first">
                <thead>
                  <tr>
                    <th scope="col">Month</th>
                    {reviewColumns.map(({ name, words }) => (
                      <th key={name} scope="col" className="number">
                        {words}
                      </th>
                    ))}
                  </tr>
                </thead>
                <tbody>
                  {newestFirst.map((month) => (
                    <tr key={month.month}>
                      <th scope="row">{month.month}</th>
                      {reviewColumns.map(({ name }) => (
                        <td key={name} className="number">
                          {month[name]}
                        </td>
                      ))}
                    </tr>
                  ))}
                </tbody>
              </DataTable>
            </Panel>
          </div>
          <Panel>
            <SeriesChart
              spec={reviewSpec(
                months,
                {
                  title: 'Spells opened a month',
                  unit: 'spells',
                  main: { name: 'opened', figure: 'opened' },
                  second: { name: 'warned beforehand', figure: 'warned' },
                },
                asOf,
              )}
              csvHref="/safety-review/csv"
            />
          </Panel>
          <Panel>
            <SeriesChart
              spec={reviewSpec(
                months,
                {
                  title: 'Days out a month, all units',
                  unit: 'days',
                  main: { name: 'days out', figure: 'daysOut' },
                  second: null,
                },
                asOf,
              )}
              csvHref="/safety-review/csv"
            />
          </Panel>
          <Panel>
            <SeriesChart
              spec={reviewSpec(
                months,
                {
                  title: 'Readings overdue at the end of a month',
                  unit: 'units',
                  main: { name: 'overdue', figure: 'overdue' },
                  second: null,
                },
                asOf,
              )}
              csvHref="/safety-review/csv"
            />
          </Panel>
        </div>
      </Page>
    </Shell>
  );
}
