import type { Metadata } from 'next';
import { requireSignIn } from '@/app/_session';
import { Shell } from '@/app/_shell';
import { EmptyState } from '@/app/_ui/empty-state';
import { Page } from '@/app/_ui/page';
import { may } from '@/lib/access';
import { BayCard } from './bay-card';

export const metadata: Metadata = { title: 'Bay card' };

/** Carries nothing of a person or a unit: the page is kept on the device and opens for whoever holds it. */
export default async function BayPage() {
  const person = await requireSignIn('/bay');
  if (may(person, 'record a reading', person.shedIds[0])) {
    return (
      <>
        {/* In the markup itself: asked for while the scripts are still on their way. */}
        <link rel="preload" href="/api/v1/bay" as="fetch" crossOrigin="anonymous" />
        <BayCard />
      </>
    );
  }
  return (
    <Shell person={person}>
      <Page title="Bay card">
        <EmptyState>
          Technicians and safety officers take readings. Your role sees them on the unit sheets.
        </EmptyState>
      </Page>
    </Shell>
  );
}
