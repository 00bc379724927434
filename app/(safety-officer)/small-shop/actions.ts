'use server';

import { refresh } from 'next/cache';
import { z } from 'zod';
import { requireSignIn } from '@/app/_session';
import { database } from '@/db/handle';
import { proposeSmallShop } from '@/db/writes/propose-small-shop';
import { plainText } from '@/lib/plain-text';
import { type FormState, wrong } from '../form-state';

const proposal = z.object({
  isOn: z.enum(['yes', 'no']),
  why: plainText(2_000).min(1),
});

export async function propose(_: FormState, data: FormData): Promise<FormState> {
  const actor = await requireSignIn('/small-shop');
  const form = proposal.safeParse(Object.fromEntries(data));
  if (!form.success) return wrong('why', 'No reason is given.', 'Say why the rule changes.');
  const { db } = await database();
  const { isOn, why } = form.data;
  await proposeSmallShop(db, { actor, isOn: isOn === 'yes', why, now: new Date() });
  refresh();
  return { problems: [], said: 'Proposed. A safety officer decides.' };
}
