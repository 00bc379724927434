import 'server-only';
import { headers } from 'next/headers';
import { redirect } from 'next/navigation';
import { connection } from 'next/server';
import { cache } from 'react';
import { database } from '@/db/handle';
import { actorOfPerson, type SignedInPerson } from '@/db/reads/actor-of-person';
import './_access-denied';
import { absoluteSessionSeconds, auth } from './_auth';

/** Who is signed in, read afresh on every request; null when nobody is. */
export const signedIn = cache(async (): Promise<SignedInPerson | null> => {
  await connection();
  const found = await (await auth()).api.getSession({ headers: await headers() });
  if (!found) return null;
  const age = Date.now() - new Date(found.session.createdAt).getTime();
  if (age > absoluteSessionSeconds * 1000) return null;
  return actorOfPerson((await database()).db, found.user.id);
});

/** For pages: the signed-in person, or the sign-in page and back. */
export async function requireSignIn(returnTo?: string): Promise<SignedInPerson> {
  const person = await signedIn();
  if (!person) redirect(returnTo ? `/sign-in?to=${encodeURIComponent(returnTo)}` : '/sign-in');
  return person;
}
