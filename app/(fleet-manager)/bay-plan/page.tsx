import type { Metadata } from 'next';
import { forbidden } from 'next/navigation';
import { Suspense } from 'react';
import { requireSignIn } from '@/app/_session';
import { Shell } from '@/app/_shell';
import { LinkButton } from '@/app/_ui/button';
import { counted } from '@/app/_ui/format';
import { Page } from '@/app/_ui/page';
import { PrintButton } from '@/app/_ui/print-button';
import { database } from '@/db/handle';
import { bayCapacity, planWeeks } from '@/db/reads/bay-capacity';
import { permissionOf } from '@/lib/access';
import { isoWeekOf, localDay } from '@/lib/calendar';
import { CapacityOutline } from './capacity-outline';
import { PlanBody } from './plan-body';
import { ProposeButton } from './propose-button';

export const metadata: Metadata = { title: 'Bay plan' };

interface BayPlanPageProps {
  readonly searchParams: Promise<{ readonly order?: string; readonly unit?: string }>;
}

export default async function BayPlanPage({ searchParams }: BayPlanPageProps) {
  const search = await searchParams;
  const person = await requireSignIn('/bay-plan');
  if (permissionOf(person.role, 'plan') !== 'yes') forbidden();
  const today = localDay(new Date(), 'UTC');
  const capacity = await bayCapacity((await database()).db, person, today);
  const { firstMonday, sheds } = capacity;
  const weeks = Array.from({ length: planWeeks }, (_, k) => isoWeekOf(firstMonday + 7 * k));
  return (
    <Shell person={person}>
      <Page
        title="Bay plan"
        lede={`${weeks[0]} to ${weeks.at(-1)} · ${counted(sheds.length, 'shed', 'sheds')} · work of one unit joined into one visit where the dates allow`}
        actions={
          <>
            <LinkButton href="/parts">Parts by week</LinkButton>
            <LinkButton href="/calendar">In your calendar</LinkButton>
            <PrintButton>Print</PrintButton>
          </>
        }
      >
        <ProposeButton />
        <p className="small mute">
          Hours placed against hours open, set-up included; bold and underlined where more is placed
          than open. A dot marks what a person pinned, an exclamation mark what goes over the hours
          with a reason. Drag an order, or press Alt and an arrow on it, or choose it and use its
          menu.
        </p>
        <Suspense fallback={<CapacityOutline weeks={weeks} sheds={sheds} />}>
          <PlanBody {...{ person, weeks, today, capacity, search }} />
        </Suspense>
      </Page>
    </Shell>
  );
}
