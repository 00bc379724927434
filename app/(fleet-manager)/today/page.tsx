import type { Metadata } from 'next';
import { forbidden } from 'next/navigation';
import { requireSignIn } from '@/app/_session';
import { Shell } from '@/app/_shell';
import { LinkButton } from '@/app/_ui/button';
import { moment } from '@/app/_ui/format';
import { Link } from '@/app/_ui/link';
import { MarkGlyph } from '@/app/_ui/mark';
import { Page } from '@/app/_ui/page';
import { Panel } from '@/app/_ui/panel';
import { PrintButton } from '@/app/_ui/print-button';
import { database } from '@/db/handle';
import { clockOfPerson } from '@/db/reads/clock-of-person';
import { today as todayOf } from '@/db/reads/today';
import { may } from '@/lib/access';
import { isoFromDay, isoWeekOf, localDay } from '@/lib/calendar';
import { AwayPanel } from './away-panel';
import { OrdersPanel } from './orders-panel';

export const metadata: Metadata = { title: 'Today' };

export default async function TodayPage() {
  const person = await requireSignIn('/today');
  if (!may(person, 'see units')) forbidden();
  const { db } = await database();
  const timeZone = await clockOfPerson(db, person);
  const day = localDay(new Date(), timeZone);
  const today = await todayOf(db, person, day);
  return (
    <Shell person={person} asOf={isoFromDay(day)}>
      <Page
        title="Today"
        lede={`${isoFromDay(day)}, ${isoWeekOf(day)}. ${today.inBays.length} in the bays, ${today.due.length} due this week, ${today.overdue.length} overdue, ${today.readingsOverdue} readings overdue.`}
        actions={
          <>
            <LinkButton href="/readings-round">Readings round</LinkButton>
            <LinkButton href="/calendar">In your calendar</LinkButton>
            <PrintButton>Print</PrintButton>
          </>
        }
      >
        <div className="beside">
          <div className="stack">
            <OrdersPanel title="In the bays" orders={today.inBays} empty="Every bay is free." />
            <OrdersPanel
              title="Overdue: placed in an earlier week, not begun"
              orders={today.overdue}
              empty="Nothing is overdue."
            />
            <OrdersPanel
              title="Due this week"
              orders={today.due}
              empty="Nothing is placed in this week."
            />
            <OrdersPanel
              title="Finished, proof reading owed"
              orders={today.proofOwed}
              empty="No proof is owed."
            />
          </div>
          <div className="stack">
            <Panel title="Readings overdue" aside={today.readingsOverdue}>
              {today.readingsOverdue === 0 ? (
                <p className="mute">Every unit has been read in time.</p>
              ) : (
                <p>
                  <Link href="/bay/overdue">List by shed</Link>
                </p>
              )}
            </Panel>
            <Panel title="Back in the last seven days" aside={today.back.length}>
              {today.back.length === 0 ? (
                <p className="mute">None came back.</p>
              ) : (
                <ul>
                  {today.back.map(({ unitId, mark, shed, backAt, by }) => (
                    <li key={`${unitId} ${by}`}>
                      {mark && <MarkGlyph mark={mark} size={14} />}{' '}
                      <Link href={`/units/${unitId}`}>{unitId}</Link>, {shed}: {by},{' '}
                      {moment(backAt, timeZone)}
                    </li>
                  ))}
                </ul>
              )}
            </Panel>
            <AwayPanel today={today} mayPlan={may(person, 'plan')} />
          </div>
        </div>
      </Page>
    </Shell>
  );
}
