'use server';

import { refresh } from 'next/cache';
import { environment } from '@/app/_environment';
import { requireSignIn } from '@/app/_session';
import { database } from '@/db/handle';
import { makeCalendarFeed } from '@/db/writes/make-calendar-feed';
import { revokeCalendarFeed } from '@/db/writes/revoke-calendar-feed';

/** The address, shown this once. */
export async function makeAddress(): Promise<string> {
  const actor = await requireSignIn('/calendar');
  const token = await makeCalendarFeed((await database()).db, { actor, now: new Date() });
  refresh();
  return `${environment().origin}/api/v1/calendar/${token}.ics`;
}

export async function revokeAddress(): Promise<null> {
  const actor = await requireSignIn('/calendar');
  await revokeCalendarFeed((await database()).db, { actor, now: new Date() });
  refresh();
  return null;
}
