import type { Metadata } from 'next';
import Link from 'next/link';
import { requireSignIn } from '@/app/_session';
import { Shell } from '@/app/_shell';
import { DownloadButton } from '@/app/_ui/button';
import { DataTable } from '@/app/_ui/data-table';
import { EmptyState } from '@/app/_ui/empty-state';
import { FactLink } from '@/app/_ui/fact-link';
import { Page } from '@/app/_ui/page';
import { Pager } from '@/app/_ui/pager';
import { Panel } from '@/app/_ui/panel';
import { PrintButton } from '@/app/_ui/print-button';
import { database } from '@/db/handle';
import { type UndecidedFact, undecidedFacts } from '@/db/reads/undecided-facts';
import { may } from '@/lib/access';

export const metadata: Metadata = { title: 'Undecided' };

const factsAPage = 200;

/** The facts of each shed, in the order given. */
function byShed(facts: readonly UndecidedFact[]): Map<string, UndecidedFact[]> {
  const sheds = new Map<string, UndecidedFact[]>();
  for (const fact of facts) sheds.set(fact.shed, [...(sheds.get(fact.shed) ?? []), fact]);
  return sheds;
}

export default async function UndecidedPage({ searchParams }: PageProps<'/effectivity/undecided'>) {
  const person = await requireSignIn('/effectivity/undecided');
  const { db } = await database();
  const facts = await undecidedFacts(db, person);
  const pages = Math.max(1, Math.ceil(facts.length / factsAPage));
  const page = Math.min(Math.max(1, Math.trunc(Number((await searchParams).page)) || 1), pages);
  const shown = facts.slice((page - 1) * factsAPage, page * factsAPage);
  return (
    <Shell person={person}>
      <Page
        above={<Link href="/effectivity">Effectivity</Link>}
        title="Undecided"
        lede="Facts that are not on record, and the bulletins that wait for them. Until a fact is there, no bulletin is said not to apply."
        actions={
          <>
            {may(person, 'export') && (
              <DownloadButton href="/effectivity/undecided/csv">Export CSV</DownloadButton>
            )}
            <PrintButton>Print</PrintButton>
          </>
        }
      >
        {facts.length === 0 ? (
          <EmptyState>No bulletin waits for a fact.</EmptyState>
        ) : (
          <div className="stack">
            <p>
              {facts.length === 1 ? 'One fact is' : `${facts.length} facts are`} missing.
              {pages > 1 && ` Page ${page} of ${pages}.`}
            </p>
            {[...byShed(shown)].map(([shed, missing]) => (
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
            <Pager
              page={page}
              pages={pages}
              hrefFor={(to) => `/effectivity/undecided?page=${to}`}
              label="Pages of missing facts"
            />
          </div>
        )}
      </Page>
    </Shell>
  );
}
