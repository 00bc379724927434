'use server';

import { headers } from 'next/headers';
import { redirect } from 'next/navigation';
import { z } from 'zod';
import { auth } from '@/app/_auth';
import { codeText, problemsOf } from '@/app/sign-in/code/form';
import { database } from '@/db/handle';
import { makeFirstAdmin } from '@/db/writes/make-first-admin';
import { newPassword, personDetails } from '@/lib/people/person-details';
import type { Problem } from '@/lib/result';

const form = z.object({
  code: codeText,
  name: personDetails.shape.name,
  email: personDetails.shape.email,
  password: newPassword,
});

export async function beginAction(
  _: readonly Problem[],
  data: FormData,
): Promise<readonly Problem[]> {
  const parsed = form.safeParse(Object.fromEntries(data));
  if (!parsed.success) return problemsOf(parsed.error);
  const { db } = await database();
  const made = await makeFirstAdmin(db, { ...parsed.data, now: new Date() });
  if (!made.ok && made.error === 'not the first') redirect('/sign-in');
  if (!made.ok) {
    return [
      {
        field: 'code',
        message: 'That code is not one that the server printed.',
        mend: 'Read it again where the server was started; a restart prints another.',
      },
    ];
  }
  const { email, password } = parsed.data;
  await (await auth()).api.signInEmail({ body: { email, password }, headers: await headers() });
  redirect('/people');
}
