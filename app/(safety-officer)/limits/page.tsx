import type { Metadata } from 'next';
import { requireSignIn } from '@/app/_session';
import { Shell } from '@/app/_shell';
import { LinkButton } from '@/app/_ui/button';
import { DataTable } from '@/app/_ui/data-table';
import { Page } from '@/app/_ui/page';
import { Panel } from '@/app/_ui/panel';
import { database } from '@/db/handle';
import { clockOfPerson } from '@/db/reads/clock-of-person';
import { limitSets } from '@/db/reads/limit-sets';
import { limitsInForce } from '@/db/reads/limits-in-force';
import { retention } from '@/db/reads/retention';
import { smallShop } from '@/db/reads/small-shop';
import { may, requirePermission } from '@/lib/access';
import { localDay } from '@/lib/calendar';
import { LimitsTable } from './limits-table';
import { ProposedPanel } from './proposed-panel';
import { RetentionPanel } from './retention-panel';
import { SmallShopPanel } from './small-shop-panel';

export const metadata: Metadata = { title: 'Limits' };

export default async function LimitsPage() {
  const person = await requireSignIn('/limits');
  requirePermission(person, 'see units');
  const { db } = await database();
  const inForce = await limitsInForce(db, localDay(new Date(), await clockOfPerson(db, person)));
  const sets = await limitSets(db);
  const proposed = sets.find(({ state }) => state === 'proposed');
  return (
    <Shell person={person}>
      <Page
        title="Limits"
        lede="The fleet's own values, never the law. One proposes a set, another approves it; old verdicts keep the set that they were made with."
        actions={
          may(person, 'propose limits') &&
          !proposed && <LinkButton href="/limits/propose">Propose a set</LinkButton>
        }
      >
        <div className="stack">
          {proposed && <ProposedPanel proposed={proposed} inForce={inForce} person={person} />}
          <Panel
            title={
              inForce.version === 0 ? 'In force: the defaults' : `In force: set ${inForce.version}`
            }
          >
            <LimitsTable
              label="Limits in force"
              values={inForce}
              units={{ pressure: person.pressureUnit, distance: person.distanceUnit }}
            />
          </Panel>
          <SmallShopPanel rule={await smallShop(db)} person={person} />
          <RetentionPanel retention={await retention(db)} person={person} />
          <Panel title="Every set">
            <DataTable label="Every set of limits, newest first">
              <thead>
                <tr>
                  <th scope="col" className="number">
                    Set
                  </th>
                  <th scope="col">State</th>
                  <th scope="col">Counts from</th>
                  <th scope="col">Proposed by</th>
                  <th scope="col">Decided by</th>
                  <th scope="col">Source</th>
                  <th scope="col">Reason</th>
                </tr>
              </thead>
              <tbody>
                {sets.map((set) => (
                  <tr key={set.version}>
                    <th scope="row" className="number">
                      {set.version}
                    </th>
                    <td>{set.state}</td>
                    <td>{set.effectiveFrom}</td>
                    <td>{set.proposedBy ?? '–'}</td>
                    <td>{set.decidedBy ?? '–'}</td>
                    <td>{set.source}</td>
                    <td>{set.reason}</td>
                  </tr>
                ))}
              </tbody>
            </DataTable>
          </Panel>
        </div>
      </Page>
    </Shell>
  );
}
