'use server';

import { headers } from 'next/headers';
import { redirect } from 'next/navigation';
import { z } from 'zod';
import { auth } from '@/app/_auth';
import { database } from '@/db/handle';
import { acceptCode } from '@/db/writes/accept-code';
import {
  countFailedSignIn,
  forgetFailedSignIns,
  signInBlockedMinutes,
} from '@/db/writes/count-failed-sign-in';
import { emailAddress, newPassword } from '@/lib/people/person-details';
import type { Problem } from '@/lib/result';
import { codeText, problemsOf } from './form';

const form = z.object({ email: emailAddress, code: codeText, password: newPassword });

const refused = (message: string, mend: string): readonly Problem[] => [
  { field: 'code', message, mend },
];

export async function acceptCodeAction(
  _: readonly Problem[],
  data: FormData,
): Promise<readonly Problem[]> {
  const parsed = form.safeParse(Object.fromEntries(data));
  if (!parsed.success) return problemsOf(parsed.error);
  const { email, password } = parsed.data;
  const { db } = await database();
  const blocked = await signInBlockedMinutes(db, email, new Date());
  if (blocked > 0) {
    return refused('Too many tries have failed.', `Try again in ${blocked} minutes.`);
  }
  const accepted = await acceptCode(db, { ...parsed.data, now: new Date() });
  if (!accepted.ok) {
    await countFailedSignIn(db, email, new Date());
    return refused(
      'The address and the code do not belong together, or the code has run out.',
      'Check both, or ask the admin for another code.',
    );
  }
  await forgetFailedSignIns(db, email);
  await (await auth()).api.signInEmail({ body: { email, password }, headers: await headers() });
  redirect('/');
}
