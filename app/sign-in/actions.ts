'use server';

import { APIError } from 'better-auth/api';
import { headers } from 'next/headers';
import { redirect } from 'next/navigation';
import { z } from 'zod';
import { auth } from '@/app/_auth';
import { signedIn } from '@/app/_session';
import { database } from '@/db/handle';
import {
  countFailedSignIn,
  forgetFailedSignIns,
  signInBlockedMinutes,
} from '@/db/writes/count-failed-sign-in';
import type { Problem } from '@/lib/result';

/** The database holds no NUL; an address that has one is nobody's. */
const storable = z.string().regex(/^[^\0]*$/);

const form = z.object({
  email: storable.trim().min(1).max(254),
  password: storable.min(1).max(128),
  to: z.string().optional(),
});

export interface SignInState {
  readonly problems: readonly Problem[];
  readonly email: string;
}

const refused = (message: string, mend: string, email: string): SignInState => ({
  problems: [{ field: 'email', message, mend }],
  email,
});

/** Only a path of this site; `//host` and `/\host` would leave it. */
const pathWithin = (to: string | undefined): string => (to && /^\/(?![/\\])/.test(to) ? to : '/');

export async function signIn(_: SignInState, data: FormData): Promise<SignInState> {
  const parsed = form.safeParse(Object.fromEntries(data));
  const email = String(data.get('email') ?? '').slice(0, 254);
  if (!parsed.success)
    return refused('Your address or your password is not there.', 'Key both.', email);
  const { db } = await database();
  const blocked = await signInBlockedMinutes(db, parsed.data.email, new Date());
  if (blocked > 0) {
    return refused('Too many tries have failed.', `Try again in ${blocked} minutes.`, email);
  }
  try {
    await (await auth()).api.signInEmail({
      body: { email: parsed.data.email, password: parsed.data.password },
      headers: await headers(),
    });
  } catch (error) {
    if (!(error instanceof APIError)) throw error;
    await countFailedSignIn(db, parsed.data.email, new Date());
    return refused('The address or the password is not right.', 'Check both and try again.', email);
  }
  await forgetFailedSignIns(db, parsed.data.email);
  redirect(pathWithin(parsed.data.to));
}

export async function signOut(): Promise<void> {
  if (await signedIn()) await (await auth()).api.signOut({ headers: await headers() });
  redirect('/sign-in');
}
