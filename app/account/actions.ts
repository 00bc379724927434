'use server';

import { refresh } from 'next/cache';
import { redirect } from 'next/navigation';
import { z } from 'zod';
import { requireSignIn } from '@/app/_session';
import { type FormState, wrong } from '@/app/(safety-officer)/form-state';
import { database } from '@/db/handle';
import { chooseOwnUnits } from '@/db/writes/choose-own-units';
import { endOwnSessions } from '@/db/writes/end-own-sessions';
import { distanceUnits, pressureUnits } from '@/lib/measure';

export async function signOutEverywhere(): Promise<void> {
  const actor = await requireSignIn('/account');
  await endOwnSessions((await database()).db, actor, new Date());
  redirect('/sign-in');
}

const units = z.object({
  pressureUnit: z.enum(['', ...pressureUnits]),
  distanceUnit: z.enum(['', ...distanceUnits]),
});

export async function chooseUnits(_: FormState, data: FormData): Promise<FormState> {
  const actor = await requireSignIn('/account');
  const chosen = units.safeParse(Object.fromEntries(data));
  if (!chosen.success) {
    return wrong('pressureUnit', 'That is no unit of the list.', 'Choose one of the list.');
  }
  const { pressureUnit, distanceUnit } = chosen.data;
  await chooseOwnUnits((await database()).db, {
    actor,
    pressureUnit: pressureUnit || null,
    distanceUnit: distanceUnit || null,
    now: new Date(),
  });
  refresh();
  return { problems: [], said: 'Kept. Figures are shown so from here on.' };
}
