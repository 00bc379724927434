import type { Metadata } from 'next';
import { ledgerStanding } from '@/app/_ledger-standing';
import { requireSignIn } from '@/app/_session';
import { Shell } from '@/app/_shell';
import { Button, DownloadButton, LinkButton } from '@/app/_ui/button';
import { EmptyState } from '@/app/_ui/empty-state';
import { Page } from '@/app/_ui/page';
import { Pager } from '@/app/_ui/pager';
import { Panel } from '@/app/_ui/panel';
import { StatusLine } from '@/app/_ui/status-line';
import { database } from '@/db/handle';
import { clockOfPerson } from '@/db/reads/clock-of-person';
import { countLedgerEntries, ledgerChoices, ledgerEntries } from '@/db/reads/ledger-entries';
import { may } from '@/lib/access';
import { checkNow } from './actions';
import { EntriesTable } from './entries-table';
import { LedgerFilters } from './ledger-filters';
import { LedgerLine } from './ledger-line';
import { ledgerAddress, ledgerQuery, readLedgerSearch } from './ledger-search';

export const metadata: Metadata = { title: 'Ledger' };

const perPage = 50;

export default async function LedgerPage({ searchParams }: PageProps<'/ledger'>) {
  const person = await requireSignIn('/ledger');
  const { search, unread } = readLedgerSearch(await searchParams);
  const { db } = await database();
  const query = ledgerQuery(search);
  const page = search.page ?? 1;
  const timeZone = await clockOfPerson(db, person);
  const total = await countLedgerEntries(db, person, query);
  const rows = await ledgerEntries(db, person, query, {
    limit: perPage,
    offset: (page - 1) * perPage,
  });
  const choices = await ledgerChoices(db, person);
  return (
    <Shell person={person}>
      <Page
        title="Ledger"
        lede="Every change, who made it and why, each entry chained to the one before it."
        actions={
          <>
            <form action={checkNow}>
              <Button type="submit">Check the chain</Button>
            </form>
            {may(person, "make an auditor's pack") && (
              <LinkButton href="/auditors-pack">Auditor’s pack</LinkButton>
            )}
            {may(person, 'export') && (
              <DownloadButton href={`/ledger/csv?${ledgerAddress(search)}`}>
                Export CSV
              </DownloadButton>
            )}
          </>
        }
      >
        <div className="stack">
          <LedgerLine standing={await ledgerStanding()} timeZone={timeZone} />
          <Panel>
            <LedgerFilters search={search} choices={choices} />
            <StatusLine>
              {unread.length > 0 && `Not understood and left out: ${unread.join(', ')}. `}
              {total.toLocaleString('en-US')} {total === 1 ? 'entry' : 'entries'}
            </StatusLine>
            {rows.length === 0 ? (
              <EmptyState>
                No entry matches. The first entry is made with the first change.
              </EmptyState>
            ) : (
              <EntriesTable rows={rows} timeZone={timeZone} />
            )}
            <Pager
              page={page}
              pages={Math.ceil(total / perPage)}
              hrefFor={(to) => `/ledger?${ledgerAddress(search, to)}`}
              label="Ledger pages"
            />
          </Panel>
        </div>
      </Page>
    </Shell>
  );
}
