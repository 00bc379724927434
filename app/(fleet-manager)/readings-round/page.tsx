import type { Metadata } from 'next';
import { forbidden } from 'next/navigation';
import { requireSignIn } from '@/app/_session';
import { Shell } from '@/app/_shell';
import { DownloadButton } from '@/app/_ui/button';
import { DataTable } from '@/app/_ui/data-table';
import { EmptyState } from '@/app/_ui/empty-state';
import { isoDate } from '@/app/_ui/format';
import { Link } from '@/app/_ui/link';
import { MarkTag } from '@/app/_ui/mark';
import { Page } from '@/app/_ui/page';
import { Panel } from '@/app/_ui/panel';
import { PrintButton } from '@/app/_ui/print-button';
import { may } from '@/lib/access';
import { isoFromDay, isoWeekOf } from '@/lib/calendar';
import { roundOf } from './round-of';

export const metadata: Metadata = { title: 'Readings round' };

interface RoundPageProps {
  readonly searchParams: Promise<{ readonly shed?: string; readonly week?: string }>;
}

const rowsShown = 300;

export default async function ReadingsRoundPage({ searchParams }: RoundPageProps) {
  const search = await searchParams;
  const person = await requireSignIn('/readings-round');
  if (!may(person, 'see units')) forbidden();
  const { today, mondays, entries } = await roundOf(person, null);
  const sheds = [...new Map(entries.map(({ of }) => [of.shedId, of.shedName]))].sort(
    ([, a], [, b]) => (a < b ? -1 : 1),
  );
  const monday = mondays.find((one) => isoWeekOf(one) === search.week) ?? mondays[0] ?? today;
  const shed = sheds.find(([id]) => id === search.shed) ?? sheds[0];
  const cell = (shedId: string, week: number) =>
    entries.filter((entry) => entry.shedId === shedId && entry.monday === week);
  const chosen = shed ? cell(shed[0], monday) : [];
  return (
    <Shell person={person} asOf={isoFromDay(today)}>
      <Page
        title="Readings round"
        above={<Link href="/today">Today</Link>}
        lede="A quarter of readings spread over its weeks: never read and overdue first, then by due date; a unit that may meet a limit before its next reading comes that much earlier."
        actions={
          <>
            {may(person, 'export') && (
              <DownloadButton href="/readings-round/csv">Export CSV</DownloadButton>
            )}
            <PrintButton>Print</PrintButton>
          </>
        }
      >
        {!shed ? (
          <EmptyState>No unit is in use.</EmptyState>
        ) : (
          <div className="stack">
            <Panel flush>
              <DataTable label="Readings by shed and week" look="grid" small>
                <thead>
                  <tr>
                    <th scope="col">Shed</th>
                    {mondays.map((each) => (
                      <th key={each} scope="col" className="number">
                        {isoWeekOf(each).slice(5)}
                      </th>
                    ))}
                  </tr>
                </thead>
                <tbody>
                  {sheds.map(([id, name]) => (
                    <tr key={id}>
                      <th scope="row">{name}</th>
                      {mondays.map((each) => (
                        <td key={each} className="number">
                          <Link
                            href={`/readings-round?shed=${id}&week=${isoWeekOf(each)}`}
                            aria-current={id === shed[0] && each === monday ? 'true' : undefined}
                            scroll={false}
                            aria-label={`${cell(id, each).length} at ${name} in ${isoWeekOf(each)}`}
                          >
                            {cell(id, each).length}
                          </Link>
                        </td>
                      ))}
                    </tr>
                  ))}
                </tbody>
              </DataTable>
            </Panel>
            <Panel
              title={`${shed[1]}, ${isoWeekOf(monday)}`}
              aside={`${chosen.length} readings, ${chosen.filter(({ isOverdue }) => isOverdue).length} overdue, ${chosen.filter(({ isEarly }) => isEarly).length} early`}
              flush
            >
              <DataTable label={`Readings at ${shed[1]} in ${isoWeekOf(monday)}`}>
                <thead>
                  <tr>
                    <th scope="col">Unit</th>
                    <th scope="col">Mark</th>
                    <th scope="col">Last read</th>
                    <th scope="col">Due</th>
                    <th scope="col">Limit before the next reading</th>
                    <th scope="col">Why now</th>
                    <th scope="col">Read</th>
                  </tr>
                </thead>
                <tbody>
                  {chosen.slice(0, rowsShown).map(({ unit, of, dueOn, isOverdue, isEarly }) => (
                    <tr key={unit}>
                      <th scope="row">
                        <Link href={`/units/${unit}`}>{unit}</Link>
                      </th>
                      <td>{of.mark && <MarkTag mark={of.mark} />}</td>
                      <td>{of.lastReadOn ?? 'never'}</td>
                      <td>{isoDate(dueOn)}</td>
                      <td>
                        {of.risk === null ? 'too few to forecast' : `${Math.round(100 * of.risk)}%`}
                      </td>
                      <td>
                        {dueOn === null
                          ? 'never read'
                          : isOverdue
                            ? 'overdue'
                            : isEarly
                              ? (of.risk ?? 0) >= 0.1
                                ? 'early, for its risk'
                                : 'early, to spread the round'
                              : 'due'}
                      </td>
                      <td>
                        <span aria-hidden="true">☐</span>
                      </td>
                    </tr>
                  ))}
                </tbody>
              </DataTable>
              {chosen.length > rowsShown && <p>{chosen.length - rowsShown} more are in the CSV.</p>}
            </Panel>
          </div>
        )}
      </Page>
    </Shell>
  );
}
