import 'server-only';
import { APIError } from 'better-auth/api';
import { headers } from 'next/headers';
import { database } from '@/db/handle';
import {
  countFailedSignIn,
  forgetFailedSignIns,
  signInBlockedMinutes,
} from '@/db/writes/count-failed-sign-in';
import { failure, type Problem, type Result, success } from '@/lib/result';
import { auth } from './_auth';

const refused = (message: string, mend: string): Result<never, Problem> =>
  failure({ field: 'password', message, mend });

/** The signed-in person proves once more who they are; failures count as failed sign-ins. */
export async function signInAgain(password: string): Promise<Result<Date, Problem>> {
  const { api } = await auth();
  const asked = { headers: await headers() };
  const found = await api.getSession(asked);
  if (!found) return refused('Your sign-in has ended.', 'Sign in and start again.');
  const { db } = await database();
  const blocked = await signInBlockedMinutes(db, found.user.email, new Date());
  if (blocked > 0) {
    return refused('Too many tries have failed.', `Try again in ${blocked} minutes.`);
  }
  try {
    await api.verifyPassword({ ...asked, body: { password } });
  } catch (error) {
    if (!(error instanceof APIError)) throw error;
    await countFailedSignIn(db, found.user.email, new Date());
    return refused('That is not your password.', 'Key it again.');
  }
  await forgetFailedSignIns(db, found.user.email);
  return success(new Date());
}
