import type { Metadata } from 'next';
import Link from 'next/link';
import { requireSignIn } from '@/app/_session';
import { Shell } from '@/app/_shell';
import { LinkButton } from '@/app/_ui/button';
import { DataTable } from '@/app/_ui/data-table';
import { EmptyState } from '@/app/_ui/empty-state';
import { Page } from '@/app/_ui/page';
import { Panel } from '@/app/_ui/panel';
import { PrintButton } from '@/app/_ui/print-button';
import { database } from '@/db/handle';
import { effectivityMatrix, unitsUnderBulletin } from '@/db/reads/effectivity';
import type { BuildRange } from '@/lib/bulletins/build-ranges';
import type { StatusCounts } from '@/lib/bulletins/effectivity';
import { isoFromDay } from '@/lib/calendar';
import { ChosenCell } from './chosen-cell';
import styles from './effectivity.module.css';

export const metadata: Metadata = { title: 'Effectivity' };

interface EffectivityPageProps {
  readonly searchParams: Promise<{ readonly range?: string; readonly bulletin?: string }>;
}

const month = (day: number | null) => (day === null ? null : isoFromDay(day).slice(0, 7));

function stretch({ from, to, isDateOpen, attributes }: BuildRange): string {
  const words = isDateOpen
    ? 'build date not settled'
    : [month(from) ?? 'from the first', month(to) ? `to ${month(to)}` : 'on'].join(' ');
  return [words, ...attributes].join(', ');
}

/** The most pressing status of a cell in words; each word stands beside its own sign. */
function CellWords({ counts, of }: { readonly counts: StatusCounts; readonly of: number }) {
  const open = counts.open + counts.refused;
  const settled = counts.done + counts['not needed'];
  if (open + counts.planned + counts.undecided + settled + counts.superseded === 0) {
    return <span className="mute">·</span>;
  }
  return (
    <>
      {open > 0 && <b className={styles.line}>■ {open} open</b>}
      {counts.planned > 0 && <span className={styles.line}>□ {counts.planned} planned</span>}
      {counts.undecided > 0 && <b className={styles.line}>? {counts.undecided} undecided</b>}
      {settled > 0 && (
        <span className={styles.line}>☑ {settled === of ? 'all done' : `${settled} done`}</span>
      )}
      {counts.superseded > 0 && (
        <span className={styles.line}>↳ {counts.superseded} superseded</span>
      )}
    </>
  );
}

export default async function EffectivityPage({ searchParams }: EffectivityPageProps) {
  const chosen = await searchParams;
  const person = await requireSignIn('/effectivity');
  const { db } = await database();
  const { bulletins, facts, matrix } = await effectivityMatrix(db, person, new Date());
  const column = bulletins.findIndex(({ id }) => id === chosen.bulletin);
  const row = matrix.rows.findIndex(({ name }) => name === chosen.range);
  const bulletin = bulletins[column];
  const units =
    bulletin && new Set(matrix.unitsOf(row, column).map((index) => facts[index]?.unit ?? ''));
  const pairs = bulletin ? await unitsUnderBulletin(db, person, bulletin.id) : [];
  return (
    <Shell person={person}>
      <Page
        title="Effectivity"
        lede="Which bulletin covers which build range. A cell counts units; choose it to list them."
        actions={
          <>
            {person.role === 'fleet manager' && (
              <LinkButton href="/effectivity/new" main>
                Add bulletin
              </LinkButton>
            )}
            <PrintButton>Print</PrintButton>
          </>
        }
      >
        {bulletins.length === 0 ? (
          <EmptyState>No bulletins.</EmptyState>
        ) : (
          <div className={styles.columns}>
            <Panel flush>
              <DataTable label="Build ranges by bulletin" look="grid">
                <thead>
                  <tr>
                    <th>Build range</th>
                    <th className="number">Units</th>
                    {bulletins.map(({ id, number, title }) => (
                      <th key={id}>
                        {number}
                        <span className={styles.under}>{title}</span>
                      </th>
                    ))}
                  </tr>
                </thead>
                <tbody>
                  {matrix.rows.map((range, index) => (
                    <tr key={range.name}>
                      <th scope="row">
                        {range.name}
                        <span className={styles.under}>{stretch(range)}</span>
                      </th>
                      <td className="number">{range.units.length}</td>
                      {bulletins.map(({ id, number }, at) => (
                        <td
                          key={id}
                          className={index === row && at === column ? styles.chosen : undefined}
                        >
                          <Link
                            className={styles.cell}
                            aria-label={`${number}, ${range.name}`}
                            href={`/effectivity?${new URLSearchParams({ range: range.name, bulletin: id })}`}
                            scroll={false}
                          >
                            <CellWords counts={matrix.cell(index, at)} of={range.units.length} />
                          </Link>
                        </td>
                      ))}
                    </tr>
                  ))}
                  <tr>
                    <th scope="row">All</th>
                    <td className="number">{facts.length}</td>
                    {bulletins.map(({ id }, at) => (
                      <td key={id}>
                        <CellWords counts={matrix.total(at)} of={facts.length} />
                      </td>
                    ))}
                  </tr>
                </tbody>
              </DataTable>
            </Panel>
            {bulletin && units && (
              <ChosenCell
                bulletin={bulletin}
                range={matrix.rows[row]?.name ?? ''}
                pairs={pairs.filter(({ unitId }) => units.has(unitId))}
              />
            )}
          </div>
        )}
      </Page>
    </Shell>
  );
}
