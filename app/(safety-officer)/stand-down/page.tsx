import type { Metadata } from 'next';
import { ledgerStanding } from '@/app/_ledger-standing';
import { requireSignIn } from '@/app/_session';
import { Shell } from '@/app/_shell';
import { DownloadButton, LinkButton } from '@/app/_ui/button';
import { EmptyState } from '@/app/_ui/empty-state';
import { moment } from '@/app/_ui/format';
import { Page } from '@/app/_ui/page';
import { Panel } from '@/app/_ui/panel';
import { StatusLine } from '@/app/_ui/status-line';
import { database } from '@/db/handle';
import { amendmentsAsked } from '@/db/reads/amendments-asked';
import { clockOfPerson } from '@/db/reads/clock-of-person';
import { lastEntryOfUnit } from '@/db/reads/last-entry-of-unit';
import { openSpells } from '@/db/reads/open-spells';
import { provingUnits } from '@/db/reads/proving-units';
import { smallShop } from '@/db/reads/small-shop';
import { spellsEndedSince } from '@/db/reads/spells-ended-since';
import { may } from '@/lib/access';
import { LedgerLine } from '../ledger/ledger-line';
import { AmendmentsTable } from './amendments-table';
import styles from './board.module.css';
import { OpenTable } from './open-table';
import { ProvingTable } from './proving-table';
import { ReleasePanel } from './release-panel';
import { ReleasedTable } from './released-table';

export const metadata: Metadata = { title: 'Stand-down' };

const thirtyDaysMs = 30 * 86_400_000;

export default async function StandDownPage({ searchParams }: PageProps<'/stand-down'>) {
  const { unit, released } = await searchParams;
  const person = await requireSignIn('/stand-down');
  const { db } = await database();
  const now = new Date();
  const timeZone = await clockOfPerson(db, person);
  const open = await openSpells(db, person);
  const ended = await spellsEndedSince(db, person, new Date(now.getTime() - thirtyDaysMs));
  const proving = await provingUnits(db, person);
  const amendments = await amendmentsAsked(db, person);
  const { isOn: isSmallShop } = await smallShop(db);
  const chosen = open.find(({ row }) => row.unitId === unit) ?? open[0];
  const lastEntry = chosen && (await lastEntryOfUnit(db, person, chosen.row.unitId));
  const asOf = moment(now, timeZone);
  return (
    <Shell person={person} asOf={asOf}>
      <Page
        title="Stand-down"
        lede="Units that must not be driven. One open spell a unit. Three people: certify, prove, release."
        actions={
          <>
            {may(person, 'stand a unit down') && (
              <LinkButton href="/stand-down/new">Stand a unit down</LinkButton>
            )}
            <LinkButton href="/safety-review">Safety review</LinkButton>
            {may(person, "make an auditor's pack") && (
              <LinkButton href={`/auditors-pack${chosen ? `?unit=${chosen.row.unitId}` : ''}`}>
                Auditor’s pack
              </LinkButton>
            )}
            {may(person, 'export') && (
              <DownloadButton href="/stand-down/csv">Export CSV</DownloadButton>
            )}
          </>
        }
      >
        <div className="stack">
          {typeof released === 'string' && (
            <StatusLine>
              Unit {released} is released and on record. Two good readings are owed, due 14 and 45
              days from today.
            </StatusLine>
          )}
          {may(person, 'see the ledger') && (
            <LedgerLine standing={await ledgerStanding()} timeZone={timeZone} />
          )}
          <div className={styles.board}>
            <div className="stack">
              <Panel>
                {open.length === 0 ? (
                  <EmptyState>No unit is out, checked {asOf}.</EmptyState>
                ) : (
                  <OpenTable
                    spells={open}
                    chosenUnitId={chosen?.row.unitId ?? null}
                    distanceUnit={person.distanceUnit}
                    mayAcknowledge={may(person, 'release to service')}
                    now={now}
                  />
                )}
              </Panel>
              {amendments.length > 0 && (
                <Panel title="Amendments to decide" id="amendments">
                  <AmendmentsTable amendments={amendments} timeZone={timeZone} />
                </Panel>
              )}
              <Panel title="Back and proving">
                {proving.length === 0 ? (
                  <EmptyState>No unit owes a reading since it came back.</EmptyState>
                ) : (
                  <ProvingTable units={proving} />
                )}
              </Panel>
              <Panel title="Released in the last 30 days">
                {ended.length === 0 ? (
                  <EmptyState>No unit was released in the last 30 days.</EmptyState>
                ) : (
                  <ReleasedTable
                    spells={ended}
                    distanceUnit={person.distanceUnit}
                    mayAcknowledge={may(person, 'release to service')}
                  />
                )}
              </Panel>
            </div>
            {chosen && (
              <ReleasePanel
                key={chosen.row.id}
                spell={chosen}
                person={person}
                isSmallShop={isSmallShop}
                lastEntry={lastEntry ?? null}
                now={now}
              />
            )}
          </div>
        </div>
      </Page>
    </Shell>
  );
}
