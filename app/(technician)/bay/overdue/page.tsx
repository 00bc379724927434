import type { Metadata } from 'next';
import { requireSignIn } from '@/app/_session';
import { Shell } from '@/app/_shell';
import { DataTable } from '@/app/_ui/data-table';
import { EmptyState } from '@/app/_ui/empty-state';
import { isoDate } from '@/app/_ui/format';
import { MarkTag } from '@/app/_ui/mark';
import { Page } from '@/app/_ui/page';
import { Panel } from '@/app/_ui/panel';
import { PrintButton } from '@/app/_ui/print-button';
import { database } from '@/db/handle';
import { bayOverdue, type OverdueShed } from '@/db/reads/bay-overdue';
import { firstYardQuery, writeYardQuery } from '@/lib/intake/yard-query';
import styles from './overdue.module.css';

export const metadata: Metadata = { title: 'Readings overdue' };

const tagsOf = (shed: string) =>
  writeYardQuery({ ...firstYardQuery, mark: null, sort: 'unit', shed });

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
        actions={<PrintButton>Print</PrintButton>}
      >
        <div className="stack">
          {sheds.length === 0 && <EmptyState>No unit of your sheds is on record.</EmptyState>}
          {sheds.map(({ id: shedId, name, asOf, units }) => (
            <Panel
              key={shedId}
              title={`${name}: ${units.length}`}
              aside={
                <>
                  As of {isoDate(asOf)}{' '}
                  {units.length > 0 && (
                    <a className="no-print" href={`/bay/overdue/tags?shed=${shedId}`}>
                      Tags of these
                    </a>
                  )}{' '}
                  <a className="no-print" href={`/yard/tags?${tagsOf(shedId)}`}>
                    All tags
                  </a>
                </>
              }
              flush
            >
              {units.length === 0 ? (
                <EmptyState>Every unit of this shed has been read in time.</EmptyState>
              ) : (
                <OverdueUnits name={name} asOf={asOf} units={units} />
              )}
            </Panel>
          ))}
        </div>
      </Page>
    </Shell>
  );
}

function OverdueUnits({ name, asOf, units }: Omit<OverdueShed, 'id'>) {
  return (
    <DataTable label={`Overdue at ${name}`}>
      <thead>
        <tr>
          <th scope="col">Unit</th>
          <th scope="col">Mark</th>
          <th scope="col" className={styles.wide}>
            Last read
          </th>
          <th scope="col">Due</th>
          <th scope="col">Read</th>
        </tr>
      </thead>
      <tbody>
        {units.map(({ id, described, mark, lastReadOn, dueOn }) => (
          <tr key={id}>
            <th scope="row">
              <a href={`/units/${id}`}>{id}</a> <span className={styles.vehicle}>{described}</span>
            </th>
            <td>{mark && <MarkTag mark={mark} />}</td>
            <td className={styles.wide}>{lastReadOn ?? 'never'}</td>
            <td>
              <span className={styles.date}>{isoDate(dueOn)}</span>{' '}
              <span className={styles.days}>{daysOver(asOf - dueOn)}</span>
            </td>
            <td>
              <span aria-hidden="true">☐</span>
            </td>
          </tr>
        ))}
      </tbody>
    </DataTable>
  );
}

function daysOver(days: number): string {
  if (days === 0) return 'today';
  return days === 1 ? '1 day over' : `${days} days over`;
}
