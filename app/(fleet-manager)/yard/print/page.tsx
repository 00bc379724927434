import type { Metadata } from 'next';
import { requireSignIn } from '@/app/_session';
import { Shell } from '@/app/_shell';
import { DataTable } from '@/app/_ui/data-table';
import { counted, isoDate, moment, pressureFigure } from '@/app/_ui/format';
import { Link } from '@/app/_ui/link';
import { MarkTag } from '@/app/_ui/mark';
import { Page } from '@/app/_ui/page';
import { PrintButton } from '@/app/_ui/print-button';
import { database } from '@/db/handle';
import { clockOfPerson } from '@/db/reads/clock-of-person';
import { markCounts, rowsListed } from '@/db/reads/mark-counts';
import { yardPage } from '@/db/reads/yard-page';
import { yardRows } from '@/db/reads/yard-rows';
import { readYardQuery, writeYardQuery } from '@/lib/intake/yard-query';
import { EmptyYard } from '../empty-yard';
import { bulletinWords, edgeWords, nextWords, whyWords } from '../row-words';
import { searchOf } from '../search-of';

export const metadata: Metadata = { title: 'Yard list' };

/** Some forty sheets of paper; a longer list is for the CSV. */
const most = 1000;

/** The filtered list whole, for paper. */
export default async function YardPrintPage({ searchParams }: PageProps<'/yard/print'>) {
  const search = searchOf(await searchParams);
  const person = await requireSignIn(`/yard/print?${search}`);
  const query = readYardQuery(search);
  const { db } = await database();
  const now = new Date();
  const timeZone = await clockOfPerson(db, person);
  const counts = await markCounts(db, person, query);
  const total = rowsListed(counts, query);
  const { unitIds } = await yardPage(db, person, query, { after: null, skip: 0, limit: most });
  const rows = await yardRows(db, unitIds);
  const units = { pressure: person.pressureUnit, distance: person.distanceUnit };
  const address = writeYardQuery(query);
  return (
    <Shell person={person} asOf={moment(now, timeZone)}>
      <Page
        above={<Link href={`/yard?${address}`}>Yard</Link>}
        title="Yard list"
        lede={
          <p>
            {[query.mark ?? query.standing, ...filtersOf(address)].join(', ')}:{' '}
            {counted(total, 'unit', 'units')}
            {total > most && `; the first ${most} are listed, the CSV holds all`}.
          </p>
        }
        actions={<PrintButton>Print</PrintButton>}
      >
        {rows.length === 0 ? (
          <EmptyYard query={query} counts={counts} />
        ) : (
          <DataTable label="Units" small>
            <thead>
              <tr>
                <th scope="col">Mark</th>
                <th scope="col">Unit</th>
                <th scope="col">Shed</th>
                <th scope="col">Why</th>
                <th scope="col" className="number">
                  Last, {units.pressure}
                </th>
                <th scope="col">Weeks to limit</th>
                <th scope="col">Read</th>
                <th scope="col">Bulletins</th>
                <th scope="col">Next</th>
              </tr>
            </thead>
            <tbody>
              {rows.map((row) => {
                const { main, interval, cause } = edgeWords(row);
                return (
                  <tr key={row.unit}>
                    <td>{row.mark ? <MarkTag mark={row.mark} size={14} /> : row.standing}</td>
                    <th scope="row">{row.unit}</th>
                    <td>{row.shed}</td>
                    <td>{whyWords(row.reason, units)}</td>
                    <td className="number">{pressureFigure(row.idle, units.pressure)}</td>
                    <td>{[cause, main, interval].filter(Boolean).join(' ')}</td>
                    <td className="unbroken">{isoDate(row.readOn)}</td>
                    <td>{bulletinWords(row)}</td>
                    <td>{nextWords(row)}</td>
                  </tr>
                );
              })}
            </tbody>
          </DataTable>
        )}
      </Page>
    </Shell>
  );
}

const filtersOf = (address: URLSearchParams): readonly string[] =>
  [...address]
    .filter(([name]) => !['mark', 'standing', 'sort'].includes(name))
    .map(([name, value]) => `${name} ${value}`);
