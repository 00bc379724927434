'use server';

import { revalidatePath } from 'next/cache';
import { z } from 'zod';
import { unlessDenied } from '@/app/_denied';
import { requireSignIn } from '@/app/_session';
import { type FormState, wrong } from '@/app/(safety-officer)/form-state';
import { database } from '@/db/handle';
import { type BackRefusal, bringUnitBack } from '@/db/writes/bring-unit-back';
import { layUpUnit } from '@/db/writes/lay-up-unit';
import { unitNumber } from '@/lib/plain-text';

const asked = z.object({
  unitId: unitNumber,
  what: z.enum(['laid up', 'left the fleet']),
  on: z.iso.date('Choose the day.'),
});

const orDenied = (act: () => Promise<FormState>) =>
  unlessDenied(act, (why) => wrong('unitId', why, 'Ask a fleet manager.'));

export async function layUp(_: FormState, form: FormData): Promise<FormState> {
  const actor = await requireSignIn('/today');
  const parsed = asked.safeParse(Object.fromEntries(form));
  if (!parsed.success) {
    const issue = parsed.error.issues[0];
    return wrong(String(issue?.path[0] ?? 'unitId'), issue?.message ?? '', 'Then send again.');
  }
  return orDenied(async () => {
    const { db } = await database();
    const done = await layUpUnit(db, { actor, ...parsed.data, now: new Date() });
    const { unitId, what, on } = parsed.data;
    if (!done.ok) {
      return wrong('unitId', `Unit ${unitId} is not on record.`, 'Check the number on its tag.');
    }
    revalidatePath('/today');
    return { problems: [], said: `Unit ${unitId} ${what} on ${on}.` };
  });
}

const whyNotBack: Record<BackRefusal, string> = {
  'unknown unit': 'It is not on record.',
  'not laid up': 'It is in use already.',
  'not read since': 'It has not been read since. Read it first, then bring it back.',
};

export async function bringBack(_: FormState, form: FormData): Promise<FormState> {
  const actor = await requireSignIn('/today');
  const unitId = String(form.get('unitId') ?? '');
  return orDenied(async () => {
    const back = await bringUnitBack((await database()).db, { actor, unitId, now: new Date() });
    if (!back.ok) return { problems: [], said: whyNotBack[back.error] };
    revalidatePath('/today');
    return { problems: [], said: 'Back in use.' };
  });
}
