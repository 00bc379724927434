import type { Metadata } from 'next';
import { cookies, headers } from 'next/headers';
import { midwayCookie } from '@/app/_offline/midway';
import { requireSignIn } from '@/app/_session';
import { Shell } from '@/app/_shell';
import { EmptyState } from '@/app/_ui/empty-state';
import { Page } from '@/app/_ui/page';
import { database } from '@/db/handle';
import { bayList } from '@/db/reads/bay-list';
import { may } from '@/lib/access';
import { BayCard } from './bay-card';

export const metadata: Metadata = { title: 'Bay card' };

/**
 * Opens on the person's own list. A device that asks for the page to keep it gets it without: a kept
 * page carries nothing of a person or a unit, and opens for whoever holds the device.
 */
export default async function BayPage() {
  const person = await requireSignIn('/bay');
  if (may(person, 'record a reading', person.shedIds[0])) {
    const isToKeep = (await headers()).has('x-page-to-keep');
    const first = isToKeep ? null : await bayList((await database()).db, person, new Date());
    return (
      <>
        {/* In the markup itself: asked for while the scripts are still on their way. */}
        <link rel="preload" href="/api/v1/bay" as="fetch" crossOrigin="anonymous" />
        <BayCard first={first} isMidway={(await cookies()).has(midwayCookie)} />
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
