import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { z } from 'zod';
import { requireSignIn } from '@/app/_session';
import { Shell } from '@/app/_shell';
import { DataTable } from '@/app/_ui/data-table';
import { FactLink } from '@/app/_ui/fact-link';
import { Facts } from '@/app/_ui/facts';
import { Link } from '@/app/_ui/link';
import { Page } from '@/app/_ui/page';
import { Panel } from '@/app/_ui/panel';
import { database } from '@/db/handle';
import { unitBulletin } from '@/db/reads/unit-bulletin';
import { requiredPartsInWords } from '@/lib/bulletins/required-parts';
import { StepForms } from './step-forms';

export const metadata: Metadata = { title: 'Bulletin on a unit' };

export default async function UnitBulletinPage({
  params,
}: PageProps<'/units/[unit]/bulletins/[bulletin]'>) {
  const { unit, bulletin: asked } = await params;
  const unitId = decodeURIComponent(unit).toUpperCase();
  const person = await requireSignIn(`/units/${encodeURIComponent(unitId)}`);
  const bulletinId = z.uuid().safeParse(asked).data;
  const { db } = await database();
  const found = bulletinId ? await unitBulletin(db, person, unitId, bulletinId) : null;
  if (!found) notFound();
  const { pair, bulletin, shedId, by, order, steps } = found;
  return (
    <Shell person={person}>
      <Page
        above={<Link href={`/units/${encodeURIComponent(unitId)}`}>Unit {unitId}</Link>}
        title={`${bulletin.number} issue ${bulletin.issue} on unit ${unitId}: ${pair.status}`}
        lede={
          <>
            {bulletin.title}.{' '}
            <Link href={`/effectivity/bulletins/${bulletin.id}`}>The bulletin</Link>
          </>
        }
      >
        <div className="stack">
          <Panel title="As it stands">
            <Facts
              facts={[
                { term: 'Kind', value: bulletin.kind },
                ...(bulletin.dueOn ? [{ term: 'Due', value: bulletin.dueOn }] : []),
                { term: 'To do', value: bulletin.actions },
                ...(bulletin.requiredParts.length > 0
                  ? [{ term: 'Parts', value: requiredPartsInWords(bulletin.requiredParts) }]
                  : []),
                { term: 'By the record', value: `${pair.applicability}: ${pair.why}` },
                { term: 'Status', value: pair.status },
                { term: 'Since', value: pair.statusAt.toISOString().slice(0, 10) },
                ...(by ? [{ term: 'By', value: by }] : []),
                ...(pair.statusReason && pair.statusReason !== pair.why
                  ? [{ term: 'Reason', value: pair.statusReason }]
                  : []),
                ...(pair.reviewOn ? [{ term: 'Looked at again', value: pair.reviewOn }] : []),
                ...(order
                  ? [
                      {
                        term: 'Work order',
                        value: <Link href={`/work-orders/${order}`}>{order}</Link>,
                      },
                    ]
                  : []),
                ...(pair.fittedRevision
                  ? [{ term: 'Revision fitted', value: pair.fittedRevision }]
                  : []),
                ...pair.missing.map(({ fact, whoCanGetIt, how }) => ({
                  term: 'Missing',
                  value: (
                    <>
                      {fact}, {whoCanGetIt}: {how} <FactLink unitId={unitId} fact={fact} />
                    </>
                  ),
                })),
              ]}
            />
            <StepForms
              unitId={unitId}
              bulletinId={bulletin.id}
              status={pair.status}
              kind={bulletin.kind}
              person={person}
              shedId={shedId}
            />
          </Panel>
          <Panel title="Steps">
            <DataTable label="Steps of the bulletin on this unit">
              <thead>
                <tr>
                  <th scope="col">When</th>
                  <th scope="col">From</th>
                  <th scope="col">To</th>
                  <th scope="col">By</th>
                  <th scope="col">Reason</th>
                  <th scope="col">Work order</th>
                  <th scope="col">Revision</th>
                </tr>
              </thead>
              <tbody>
                {steps.map(({ at, from, to, by: who, reason, workOrder, fittedRevision }) => (
                  <tr key={`${at.toISOString()} ${from} ${to}`}>
                    <td className="unbroken">{at.toISOString().slice(0, 10)}</td>
                    <td>{from}</td>
                    <td>{to}</td>
                    <td>{who ?? 'the record'}</td>
                    <td>{reason}</td>
                    <td>{workOrder}</td>
                    <td>{fittedRevision}</td>
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
