import type { Metadata } from 'next';
import { requireSignIn } from '@/app/_session';
import { Shell } from '@/app/_shell';
import { Page } from '@/app/_ui/page';
import { Panel } from '@/app/_ui/panel';
import { RaiseOrderForm } from './raise-order-form';

export const metadata: Metadata = { title: 'Raise a work order' };

interface NewOrderPageProps {
  readonly searchParams: Promise<{ readonly unit?: string | string[] }>;
}

export default async function NewOrderPage({ searchParams }: NewOrderPageProps) {
  const { unit } = await searchParams;
  const person = await requireSignIn('/work-orders/new');
  return (
    <Shell person={person}>
      <Page title="Raise a work order">
        <Panel>
          <RaiseOrderForm unitId={typeof unit === 'string' ? unit : ''} />
        </Panel>
      </Page>
    </Shell>
  );
}
