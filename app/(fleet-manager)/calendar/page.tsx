import type { Metadata } from 'next';
import { forbidden } from 'next/navigation';
import { requireSignIn } from '@/app/_session';
import { Shell } from '@/app/_shell';
import { moment } from '@/app/_ui/format';
import { Link } from '@/app/_ui/link';
import { Page } from '@/app/_ui/page';
import { Panel } from '@/app/_ui/panel';
import { database } from '@/db/handle';
import { calendarFeedOf } from '@/db/reads/calendar-feed-of';
import { clockOfPerson } from '@/db/reads/clock-of-person';
import { may } from '@/lib/access';
import { AddressForms } from './address-forms';

export const metadata: Metadata = { title: 'Calendar' };

export default async function CalendarPage() {
  const person = await requireSignIn('/calendar');
  if (!may(person, 'see units')) forbidden();
  const { db } = await database();
  const madeAt = await calendarFeedOf(db, person);
  return (
    <Shell person={person}>
      <Page
        title="The plan in your calendar"
        above={<Link href="/today">Today</Link>}
        lede="An address of your own that a calendar program can subscribe to. It lists the work that is placed, a week each, for the sheds that you see; work that moves, moves there too."
      >
        <Panel>
          {madeAt !== null && (
            <p>Your address was made on {moment(madeAt, await clockOfPerson(db, person))}.</p>
          )}
          <AddressForms hasAddress={madeAt !== null} />
        </Panel>
      </Page>
    </Shell>
  );
}
