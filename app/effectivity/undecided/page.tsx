import type { Metadata } from 'next';
import { requireSignIn } from '@/app/_session';
import { Shell } from '@/app/_shell';
import { DownloadButton, LinkButton } from '@/app/_ui/button';
import { DataTable } from '@/app/_ui/data-table';
import { EmptyState } from '@/app/_ui/empty-state';
import { FactLink } from '@/app/_ui/fact-link';
import { Link } from '@/app/_ui/link';
import { Page } from '@/app/_ui/page';
import { Panel } from '@/app/_ui/panel';
import { PrintButton } from '@/app/_ui/print-button';
import { database } from '@/db/handle';
import { type UndecidedFact, undecidedCounts, undecidedFacts } from '@/db/reads/undecided-facts';
import { may } from '@/lib/access';
import { ShedChoice } from './shed-choice';

export const metadata: Metadata = { title: 'Undecided' };

const unitsAPage = 100;

/** The facts of each shed, in the order given. */
function byShed(facts: readonly UndecidedFact[]): Map<string, UndecidedFact[]> {
  const sheds = new Map<string, UndecidedFact[]>();
  for (const fact of facts) {
    const before = sheds.get(fact.shed);
    if (before) before.push(fact);
    else sheds.set(fact.shed, [fact]);
  }
  return sheds;
}

const textOf = (value: string | string[] | undefined): string | undefined =>
  typeof value === 'string' && value !== '' ? value : undefined;

/** The address of a page, without what is left out. */
function hrefOf(query: Readonly<Record<string, string | undefined>>): string {
  const given = Object.entries(query).flatMap(([name, value]) => (value ? [[name, value]] : []));
  return `/effectivity/undecided?${new URLSearchParams(given)}`;
}

const inUnits = (count: number): string => (count === 1 ? 'One unit waits' : `${count} units wait`);

export default async function UndecidedPage({ searchParams }: PageProps<'/effectivity/undecided'>) {
  const person = await requireSignIn('/effectivity/undecided');
  const { db } = await database();
  const asked = await searchParams;
  const shedId = textOf(asked.shed);
  const place = { shedId, after: textOf(asked.after), before: textOf(asked.before) };
  const [counts, { facts, first, last }] = await Promise.all([
    undecidedCounts(db, person),
    undecidedFacts(db, person, { ...place, limit: unitsAPage }),
  ]);
  const all = counts.reduce((sum, { units }) => sum + units, 0);
  const csv = shedId ? `?${new URLSearchParams({ shed: shedId })}` : '';
  return (
    <Shell person={person}>
      <Page
        above={<Link href="/effectivity">Effectivity</Link>}
        title="Undecided"
        lede="Facts that are not on record, and the bulletins that wait for them. Until a fact is there, no bulletin is said not to apply."
        actions={
          <>
            {may(person, 'export') && (
              <DownloadButton href={`/effectivity/undecided/csv${csv}`}>Export CSV</DownloadButton>
            )}
            <PrintButton>Print</PrintButton>
          </>
        }
      >
        {all === 0 ? (
          <EmptyState>No bulletin waits for a fact.</EmptyState>
        ) : (
          <div className="stack">
            <p>{inUnits(all)} for a fact.</p>
            <ShedChoice
              counts={counts}
              chosen={shedId}
              all={all}
              hrefFor={(shed) => hrefOf({ shed })}
            />
            {facts.length === 0 && <EmptyState>No unit is left on this page.</EmptyState>}
            {[...byShed(facts)].map(([shed, missing]) => (
              <Panel key={shed} title={shed} flush>
                <DataTable label={`Missing facts in ${shed}`}>
                  <thead>
                    <tr>
                      <th scope="col">Unit</th>
                      <th scope="col">Missing, for</th>
                      <th scope="col">Who can get it, and how</th>
                    </tr>
                  </thead>
                  <tbody>
                    {missing.map(({ unitId, fact, whoCanGetIt, how, bulletins }) => (
                      <tr key={`${unitId} ${fact}`}>
                        <th scope="row" className="unbroken">
                          <Link href={`/units/${encodeURIComponent(unitId)}`}>{unitId}</Link>
                        </th>
                        <td>
                          {fact}
                          <div className="mute small">{bulletins.join(', ')}</div>
                        </td>
                        <td>
                          <b>{whoCanGetIt}:</b> {how}{' '}
                          <span className="no-print">
                            <FactLink unitId={unitId} fact={fact} />
                          </span>
                        </td>
                      </tr>
                    ))}
                  </tbody>
                </DataTable>
              </Panel>
            ))}
            {last && <p className="print-only">More units follow on the next page of the list.</p>}
            <nav aria-label="Pages of missing facts" className="row no-print">
              {first && (
                <LinkButton rel="prev" href={hrefOf({ shed: shedId, before: first })}>
                  Previous
                </LinkButton>
              )}
              {last && (
                <LinkButton rel="next" href={hrefOf({ shed: shedId, after: last })}>
                  Next
                </LinkButton>
              )}
            </nav>
          </div>
        )}
      </Page>
    </Shell>
  );
}
