import type { Metadata } from 'next';
import { forbidden } from 'next/navigation';
import { requireSignIn } from '@/app/_session';
import { Shell } from '@/app/_shell';
import { Page } from '@/app/_ui/page';
import { Panel } from '@/app/_ui/panel';
import { database } from '@/db/handle';
import { jobTemplates } from '@/db/reads/job-templates';
import { permissionOf } from '@/lib/access';
import { RaiseOrderForm } from './raise-order-form';

export const metadata: Metadata = { title: 'Raise a work order' };

interface NewOrderPageProps {
  readonly searchParams: Promise<{ readonly unit?: string | string[] }>;
}

export default async function NewOrderPage({ searchParams }: NewOrderPageProps) {
  const { unit } = await searchParams;
  const person = await requireSignIn('/work-orders/new');
  if (permissionOf(person.role, 'raise a work order') === 'no') forbidden();
  const templates = await jobTemplates((await database()).db, person);
  return (
    <Shell person={person}>
      <Page title="Raise a work order">
        <Panel>
          <RaiseOrderForm
            unitId={typeof unit === 'string' ? unit : ''}
            templates={templates.filter(({ kind }) => kind !== 'bulletin')}
          />
        </Panel>
      </Page>
    </Shell>
  );
}
