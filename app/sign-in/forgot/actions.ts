'use server';

import { redirect } from 'next/navigation';
import { z } from 'zod';
import { environment } from '@/app/_environment';
import { sendMail } from '@/app/_mail';
import { database } from '@/db/handle';
import { log } from '@/db/log';
import { askResetCode } from '@/db/writes/ask-reset-code';
import { emailAddress } from '@/lib/people/person-details';
import type { Problem } from '@/lib/result';
import { problemsOf } from '../code/form';

const form = z.object({ email: emailAddress });

/** Leads on whether or not the address is on record: it must not tell. */
export async function askCodeAction(
  _: readonly Problem[],
  data: FormData,
): Promise<readonly Problem[]> {
  const { mail, origin } = environment();
  const parsed = form.safeParse(Object.fromEntries(data));
  if (!parsed.success) return problemsOf(parsed.error);
  if (!mail) {
    return [
      { field: 'email', message: 'No mail is sent from here.', mend: 'Ask an admin for a code.' },
    ];
  }
  const { email } = parsed.data;
  const asked = await askResetCode((await database()).db, email, new Date());
  if (asked) {
    // Not waited for: how long the mail server takes would tell whether the address is on record.
    sendMail({
      to: email,
      subject: 'Idlemark: your code',
      text: `Somebody, we hope you, asked for a code to set another password.\n\n${asked.code}\n\nKey it at ${origin}/sign-in/code within an hour. If it was not you, do nothing: your password stays.\n`,
    }).catch((err) => log.error({ err }, 'a code could not be mailed'));
  }
  redirect('/sign-in/code?mailed=1');
}
