import type { Metadata } from 'next';
import { forbidden, notFound } from 'next/navigation';
import { requireSignIn } from '@/app/_session';
import { Shell } from '@/app/_shell';
import { Link } from '@/app/_ui/link';
import { Page } from '@/app/_ui/page';
import { Panel } from '@/app/_ui/panel';
import { database } from '@/db/handle';
import { bulletinFacts } from '@/db/reads/bulletin-facts';
import { unitOnSheet } from '@/db/reads/unit-on-sheet';
import { AccessDenied, may } from '@/lib/access';
import { VinPanel } from '../vin-panel';
import { FactsForm } from './facts-form';

export const metadata: Metadata = { title: 'Facts of a unit' };

export default async function UnitFactsPage({ params }: PageProps<'/units/[unit]/facts'>) {
  const unitId = decodeURIComponent((await params).unit).toUpperCase();
  const at = `/units/${encodeURIComponent(unitId)}`;
  const person = await requireSignIn(`${at}/facts`);
  const { db } = await database();
  const sheet = await unitOnSheet(db, person, unitId).catch((error: unknown) => {
    if (error instanceof AccessDenied) forbidden();
    throw error;
  });
  if (!sheet) notFound();
  if (!may(person, 'record a unit fact', sheet.shed.id)) forbidden();
  const [facts] = await bulletinFacts(db, { units: [unitId] });
  return (
    <Shell person={person}>
      <Page
        above={<Link href={at}>Unit {unitId}</Link>}
        title={`Facts of unit ${unitId}`}
        lede="As plate, label and parts show them. A field left as it is changes nothing; a fact that is entered settles the bulletins that wait for it."
      >
        <div className="beside">
          <Panel>
            <FactsForm unit={sheet.unit} fitted={facts?.fitted ?? []} />
          </Panel>
          <VinPanel unit={sheet.unit} />
        </div>
      </Page>
    </Shell>
  );
}
